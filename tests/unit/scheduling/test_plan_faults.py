"""Each fault of a plan file is named with its place; what the plan breaks is for the checker to say."""

import json
from dataclasses import replace
from typing import Any

import pytest

from planner.domain.plan import BayPlan, PlanStatus, Reason, Score, UnplannedJob
from planner.domain.sentences import Sentence, _
from planner.scheduling.faults import FaultyFileError
from planner.scheduling.plan_format import plan_read, plan_write
from planner.scheduling.problem_format import problem_read, problem_write
from tests.lib.bays import bay, block_schedule, job
from tests.lib.malformed import setter

PROBLEM = bay(job("J1"), job("J2"))
REASON = Reason(
    code="full", message=Sentence("There is no room for it."), figures={"longest_window_minutes": 660}
)
PLAN = BayPlan(
    problem_sha256="0" * 64,
    status=PlanStatus.FEASIBLE,
    score=Score(2160, 600),
    bound=0,
    schedule=block_schedule(),
    unplanned=(UnplannedJob(job="J2", reasons=(REASON,)),),
)
START = "2026-03-02T06:00:00+00:00"

CASES: dict[str, tuple[str, Any, str]] = {
    "another format": ("format", "bay-plan/2", 'must be "bay-plan/1", not "bay-plan/2"'),
    "an unknown status": (
        "status",
        "splendid",
        'must be one of optimal, feasible, infeasible, not "splendid"',
    ),
    "no digest": ("problem_sha256", "x", 'must be 64 hexadecimal digits, not "x"'),
    "less than nothing late": ("score.lateness", -1, "must be at least 0, not -1"),
    "half a minute of flow": ("score.flow", 1.5, "must be a whole number, not 1.5"),
    "true for a bound": ("bound", True, "must be a number, not true or false"),
    "a bound beyond all measure": ("bound", 10**40, "must be at most 1e+15"),
    "an object for a list": ("jobs", {}, "must be a list, not an object"),
    "a job without stages": ("jobs.0.stages", [], "must have 1 to 100 items, has 0"),
    "an end before its start": (
        "jobs.0.stages.0.end",
        "2026-03-02T05:00:00Z",
        f"must be after its start, {START}",
    ),
    "a time without offset": (
        "jobs.0.stages.0.start",
        "2026-03-02T06:00:00",
        'must carry its offset from UTC, not "2026-03-02T06:00:00"',
    ),
    "a name for a list": ("jobs.0.stages.0.technicians", "Ada", "must be a list, not text"),
    "somebody twice": (
        "jobs.0.stages.0.technicians",
        ["Ada", "Ada"],
        "is listed twice: Ada",
    ),
    "a number for a position": ("jobs.0.stages.0.position", 3, "must be text, not a number"),
    "left out for no reason": ("unplanned.0.reasons", [], "must have 1 to 100 items, has 0"),
    "a reason without words": ("unplanned.0.reasons.0.message", "", "must not be empty"),
    "a figure that is none": (
        "unplanned.0.reasons.0.longest_window_minutes",
        [1],
        "must be a number, text or null, not a list",
    ),
    "a watch that ends first": (
        "watch.0.end",
        "2026-03-02T05:00:00Z",
        "must be after its start, 2026-03-02T06:30:00+00:00",
    ),
    "an unknown field": ("colour", "red", "is not a field of a bay plan"),
}


def _faults(raw: bytes) -> list[str]:
    with pytest.raises(FaultyFileError) as caught:
        plan_read(raw, PROBLEM)
    return [str(fault) for fault in caught.value.faults]


def _place(path: str) -> str:
    return "".join(f"[{step}]" if step.isdigit() else f".{step}" for step in path.split(".")).lstrip(".")


@pytest.mark.parametrize("name", CASES)
def test_a_fault_is_named_with_its_place(name: str) -> None:
    path, value, fault = CASES[name]
    root = json.loads(plan_write(PLAN, PROBLEM))
    setter(path, value)(root)
    (found,) = _faults(json.dumps(root).encode())
    assert found.startswith(_place(path))
    assert found.endswith(fault)


@pytest.mark.parametrize("name", ["format", "status", "score", "bound", "jobs", "unplanned", "watch"])
def test_a_missing_field_is_named(name: str) -> None:
    root = json.loads(plan_write(PLAN, PROBLEM))
    del root[name]
    assert _faults(json.dumps(root).encode()) == [f"{name}: is missing"]


@pytest.mark.parametrize("raw", [b"", b"{", b"[]", b"\xff", b"[" * 100_000])
def test_a_file_that_is_no_plan_has_one_fault(raw: bytes) -> None:
    assert len(_faults(raw)) == 1


@pytest.mark.parametrize("zone", ["UTC", "Australia/Perth", "America/Santiago", "Asia/Kathmandu"])
def test_what_is_written_is_read_as_the_same_in_every_zone(zone: str) -> None:
    problem = replace(PROBLEM, time_zone=zone)
    assert plan_read(plan_write(PLAN, problem), problem) == PLAN
    assert problem_read(problem_write(problem)).problem == problem


def test_a_reason_keeps_its_template_with_its_figures() -> None:
    message = _("If every shift ran {longer_min:duration} longer it would fit.", longer_min=65)
    reason = Reason(code="shift_too_short", message=message)
    plan = replace(PLAN, unplanned=(UnplannedJob(job="J2", reasons=(reason,)),))
    ((again,),) = (each.reasons for each in plan_read(plan_write(plan, PROBLEM), PROBLEM).unplanned)
    assert (again, again.message.template, again.message.figures) == (
        reason,
        message.template,
        {"longer_min": 65},
    )


def test_a_reason_of_an_older_plan_has_its_message_alone() -> None:
    raw = plan_write(PLAN, PROBLEM)
    assert b"template" not in raw
    ((again,),) = (each.reasons for each in plan_read(raw, PROBLEM).unplanned)
    assert again.message.template == "There is no room for it."
