"""The strict reader of `bay-plan/1`. Whether the plan holds is for `verify` to say, not for the reader."""

from planner.domain.bay_time import Span
from planner.domain.plan import (
    BayPlan,
    PlannedJob,
    Reason,
    Schedule,
    Score,
    UnplannedJob,
    Watch,
)
from planner.domain.problem import BayProblem
from planner.domain.sentences import Sentence
from planner.scheduling.faults import FaultList, Place
from planner.scheduling.plan_format.tables import PLAN, TEMPLATE
from planner.scheduling.problem_format.build import Clock, clock_from, planned_stage_build
from planner.scheduling.problem_format.checks.times import rows_within, span_check
from planner.scheduling.shapes import Row, Unread
from planner.scheduling.strict_json import json_read


def plan_read(raw: bytes, problem: BayProblem) -> BayPlan:
    """Read the bytes of a plan file; its times become minutes after the problem's horizon start.

    Raises:
        FaultyFileError: with every fault that was found, each at its place.

    """
    faults = FaultList()
    root = PLAN.read(json_read(raw), Place(), faults)
    if not isinstance(root, Unread):
        for row in rows_within(root):
            span_check(row, faults)
    faults.raise_if_any()
    if isinstance(root, Unread):
        raise TypeError("a file that could not be read left no fault")
    return _plan(root, clock_from(problem.origin))


def _plan(root: Row, clock: Clock) -> BayPlan:
    return BayPlan(
        problem_sha256=root["problem_sha256"],
        status=root["status"],
        score=Score(root["score"]["lateness"], root["score"]["flow"]),
        bound=root["bound"],
        schedule=Schedule(
            jobs=tuple(_job(row, clock) for row in root["jobs"]),
            watch=tuple(_watch(row, clock) for row in root["watch"]),
        ),
        unplanned=tuple(_unplanned(row) for row in root["unplanned"]),
    )


def _job(row: Row, clock: Clock) -> PlannedJob:
    return PlannedJob(
        id=row["id"], stages=tuple(planned_stage_build(stage, clock) for stage in row["stages"])
    )


def _watch(row: Row, clock: Clock) -> Watch:
    return Watch(
        technician=row["technician"],
        span=Span(clock(row["start"]), clock(row["end"])),
        jobs=tuple(row["jobs"]),
    )


def _unplanned(row: Row) -> UnplannedJob:
    return UnplannedJob(job=row["job"], reasons=tuple(_reason(reason) for reason in row["reasons"]))


def _reason(row: Row) -> Reason:
    """One whose figures hold the message's template can still be told in other languages."""
    figures = {name: figure for name, figure in row.values.items() if name not in ("code", "message")}
    template = figures.pop(TEMPLATE, None)
    if not isinstance(template, str):
        return Reason(code=row["code"], message=Sentence(row["message"]), figures=figures)
    message = Sentence(template, figures, text=row["message"])
    return Reason(code=row["code"], message=message, figures=figures)
