"""From a bay problem to a verified bay plan."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

import pytest

from planner.domain.bay_time import Span
from planner.domain.plan import BayPlan, PlannedStage, PlanStatus, Score
from planner.domain.problem import BayProblem
from planner.domain.progress import Progress
from planner.scheduling.verify import verify
from planner.services.bay_plan import bay_plan_make
from planner.solver.limits import SolveLimits
from tests.lib.bays import (
    DAY,
    HOUR,
    MORNING,
    bay,
    block_plan,
    hands_on,
    job,
    planned_job,
    planned_stage,
    skilled,
    technician,
    two_blocks,
)

SHA = "0" * 64
LITTLE = SolveLimits(work=2.0)
BUFF = hands_on("buff", 60)
AT_SIX = planned_stage("buff", MORNING, MORNING + 60)
ADA_TWICE = bay(
    job("J1", BUFF),
    job("J2", BUFF),
    locked=(planned_job("J1", AT_SIX), planned_job("J2", replace(AT_SIX, start=MORNING + 30))),
)


def _made(problem: BayProblem, limits: SolveLimits = LITTLE) -> BayPlan:
    return bay_plan_make(problem=problem, sha256=SHA, limits=limits)


def _locked_by(technician_name: str, **more: object) -> BayProblem:
    crew = technician("Ada"), skilled("Cy", "cure")
    stage = planned_stage("buff", MORNING, MORNING + 60, technician_name)
    return replace(
        bay(job("J1", hands_on("buff", 60, **more)), technicians=crew), locked=(planned_job("J1", stage),)
    )


BROKEN: Mapping[str, tuple[BayProblem, str]] = MappingProxyType(
    {
        "a technician at two stages": (
            ADA_TWICE,
            "one_stage: Ada: works on J1, buff and on J2, buff at 2026-03-02 06:30",
        ),
        "somebody without the skill": (_locked_by("Cy"), "crew: J1, buff: Cy has not the skill prep"),
        "one where two are asked": (
            _locked_by("Ada", crew=2),
            "crew: J1, buff: has the crew Ada; 2 are asked",
        ),
        "an isolation": (
            bay(power_off=(Span(7 * HOUR, 8 * HOUR),), locked=(block_plan(),)),
            "power_off: J1, heat: is energised while the supply is isolated from 2026-03-02 07:00",
        ),
        "a set at two tyres": (
            replace(
                two_blocks(DAY, sets=("H1", "H1")),
                locked=(block_plan(), block_plan("J2", MORNING + 240, technician="Bo", position="C2")),
            ),
            "heater_set: H1: J2 comes at 2026-03-02 10:00, before J1 and its turnaround are over",
        ),
        "a position with two tyres": (
            replace(
                two_blocks(DAY, positions=("C1", "C1")),
                locked=(block_plan(), block_plan("J2", MORNING + 225, technician="Bo", heater_set="H2")),
            ),
            "position: C1: J2 comes at 2026-03-02 09:45, before J1 has left",
        ),
        "more power than there is": (
            replace(
                two_blocks(DAY, rules={"power_limit_kw": 15.0}),
                locked=(block_plan(), block_plan("J2", technician="Bo", heater_set="H2", position="C2")),
            ),
            "power: 16 kW are energised at 2026-03-02 06:30, the limit is 15 kW",
        ),
        "a cure in the night, when nobody attends": (
            bay(locked=(block_plan(start=0),)),
            "it asks for more attendants than there are at 2026-03-02 00:30",
        ),
        "stages in the wrong order": (
            bay(
                job("J1", hands_on("buff", 60), hands_on("fill", 60)),
                locked=(
                    planned_job(
                        "J1",
                        planned_stage("buff", MORNING + 60, MORNING + 120),
                        planned_stage("fill", MORNING, MORNING + 60),
                    ),
                ),
            ),
            "stages: J1, fill: starts before buff ends",
        ),
        "an end past the horizon's": (
            bay(job("J1", BUFF), locked=(planned_job("J1", planned_stage("buff", DAY - 30, DAY + 30)),)),
            "horizon: J1, buff: ends at 2026-03-03 00:30, past the horizon's end at 2026-03-03 00:00",
        ),
    }
)


@pytest.mark.parametrize("name", BROKEN)
def test_locked_work_that_breaks_a_rule_is_named(name: str) -> None:
    problem, breach = BROKEN[name]
    plan = _made(problem)
    assert plan.status is PlanStatus.INFEASIBLE
    assert plan.schedule.jobs == ()
    assert {left_out.job for left_out in plan.unplanned} == {job.id for job in problem.jobs}
    messages = {reason.message for left_out in plan.unplanned for reason in left_out.reasons}
    assert messages == {f"The locked work breaks a rule by itself: {breach}."}


def test_locked_work_that_holds_stands_in_the_plan() -> None:
    stage = PlannedStage(name="buff", start=-30, end=20, technicians=("Ada",))
    plan = _made(bay(job("J1", BUFF), locked=(planned_job("J1", stage),)))
    assert plan.status is PlanStatus.OPTIMAL
    assert plan.schedule.jobs[0].stages == (stage,)


@pytest.mark.parametrize(
    "limits", [LITTLE, SolveLimits(seconds=0.0), SolveLimits(seconds=0.2), SolveLimits(work=0.0)]
)
def test_a_plan_holds_however_little_time_there_is(limits: SolveLimits) -> None:
    problem = two_blocks(10 * HOUR, rules={"cures_per_attendant": 1})
    plan = _made(problem, limits)
    assert verify(problem, plan, sha256=SHA) == ()
    assert [job.id for job in plan.schedule.jobs] == ["J1"]
    assert [left_out.job for left_out in plan.unplanned] == ["J2"]
    # J1: ends at 10:00, needed by 6:00, priority 9: 240 x 9. J2: (10 h - 6 h + 10 h) x 60 left out.
    assert plan.score == Score(2160 + 840, 600)
    assert plan.bound <= plan.score.lateness


def test_a_wish_to_stop_gives_the_dispatched_plan() -> None:
    problem = two_blocks(DAY)
    heard: list[Progress] = []
    plan = bay_plan_make(
        problem=problem, sha256=SHA, limits=SolveLimits(), listener=heard.append, stop=lambda: True
    )
    assert verify(problem, plan, sha256=SHA) == ()
    assert [(progress.phase, progress.score) for progress in heard] == [("dispatch", plan.score)]


def test_somebody_without_a_shift_is_in_nobodys_way() -> None:
    crew = technician("Ada", end=MORNING + 60), replace(technician("Bo"), shifts=())
    plan = _made(bay(job("J1", BUFF, priority=9), job("J2", BUFF), technicians=crew))
    (left_out,) = plan.unplanned
    assert left_out.job == "J2"
    assert "not_placed" not in {reason.code for reason in left_out.reasons}
