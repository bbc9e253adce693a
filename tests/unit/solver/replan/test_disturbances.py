"""A disturbance on a busy bay: a plan that holds, little of it moved, each move with its true cause."""

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.scheduling.dispatch import dispatch
from planner.scheduling.dispatch.attendance import watch_of
from planner.scheduling.dispatch.bay import bay_of
from planner.scheduling.score import score
from planner.scheduling.verify import schedule_verify
from planner.solver.limits import SolveLimits
from planner.solver.replan import (
    job_arrived,
    moved_jobs,
    moves_between,
    replan,
    set_failed,
    stage_runs_over,
    technician_away,
    work_in_hand,
)
from tests.bench.bay_families import DAY, HOUR, family_bay

NOW = 2 * DAY + 11 * HOUR
LIMITS = SolveLimits(work=0.1)


@cache
def published() -> tuple[BayProblem, Schedule]:
    """Sixty-four tyres in a week, and the plan that was published."""
    problem = family_bay("long-week", 3)
    problem = replace(problem, jobs=problem.jobs[:64])
    return problem, dispatch(problem, restarts=0)


@cache
def in_hand() -> BayProblem:
    """The same on the third day, with what has begun."""
    return work_in_hand(*published(), NOW)


@cache
def disturbed(disturb: Callable[[BayProblem], BayProblem]) -> tuple[BayProblem, Schedule]:
    """The bay after a disturbance, and the plan made again around it."""
    now = disturb(in_hand())
    return now, replan(now, published()[1], stability=100, limits=LIMITS)


def _in_use(what: Callable[[PlannedStage], tuple[str | None, ...]]) -> str:
    """What the plan uses most from now on."""
    stages = (stage for job in published()[1].jobs for stage in job.stages if stage.start > NOW)
    used = Counter(name for stage in stages for name in what(stage) if name)
    return used.most_common(1)[0][0]


def a_set_fails(problem: BayProblem) -> BayProblem:
    return set_failed(problem, _in_use(lambda stage: (stage.heater_set,)), Span(NOW, NOW + DAY))


def a_technician_is_sick(problem: BayProblem) -> BayProblem:
    stages = (stage for job in problem.locked for stage in job.stages if stage.end > NOW)
    busy = {name for stage in stages for name in stage.technicians}
    away = _in_use(lambda stage: tuple(name for name in stage.technicians if name not in busy))
    return technician_away(problem, away, Span(NOW, NOW + DAY))


def a_cure_runs_over(problem: BayProblem) -> BayProblem:
    job = next(
        job.id for job in problem.locked for stage in job.stages if stage.name == "cure" and stage.end > NOW
    )
    return stage_runs_over(problem, job, "cure", 40)


def an_urgent_tyre_arrives(problem: BayProblem) -> BayProblem:
    like = next(job for job in problem.jobs if not job.after)
    urgent = replace(like, id="URGENT", priority=100, released_at=NOW, needed_by=NOW + DAY)
    return job_arrived(problem, urgent)


DISTURBANCES = (a_set_fails, a_technician_is_sick, a_cure_runs_over, an_urgent_tyre_arrives)
BY_CHOICE = {"sooner", "free"}


@pytest.mark.parametrize("disturb", DISTURBANCES)
def test_a_disturbed_week_has_a_plan_that_holds_with_work_in_hand_where_it_was(
    disturb: Callable[[BayProblem], BayProblem],
) -> None:
    now, plan = disturbed(disturb)
    assert schedule_verify(now, plan) == ()
    locked = {job.id: job.stages for job in now.locked}
    stands = {job.id: job.stages[: len(locked[job.id])] for job in plan.jobs if job.id in locked}
    assert stands == locked


def test_the_dial_keeps_what_was_published() -> None:
    now, steady = disturbed(a_set_fails)
    free = replan(now, published()[1], stability=0, limits=LIMITS)
    assert schedule_verify(now, free) == ()
    moved, shifted = (
        len({move.job for move in moves_between(published()[1], one)}) for one in (steady, free)
    )
    assert moved < shifted


@pytest.mark.parametrize("disturb", DISTURBANCES)
def test_every_move_has_its_cause_and_nothing_that_was_forced_could_have_stayed(
    disturb: Callable[[BayProblem], BayProblem],
) -> None:
    before, plan = published()
    now, new = disturbed(disturb)
    moved = {one.job: one for one in moved_jobs(before, plan, now, new)}
    assert set(moved) == {move.job for move in moves_between(plan, new)}
    old = {job.id: job for job in plan.jobs}
    forced = [job for job, one in moved.items() if job in old and one.reason.code not in BY_CHOICE]
    assert forced
    assert [job for job in forced if _holds(now, new, old[job])] == []


def _holds(now: BayProblem, new: Schedule, old: PlannedJob) -> bool:
    """Whether the checker accepts the new plan with one job back where it was published."""
    jobs = (*(job for job in new.jobs if job.id != old.id), old)
    try:
        watch = watch_of(bay_of(now), jobs, {})
    except ValueError:  # nobody is left to attend it
        return False
    return schedule_verify(now, Schedule(jobs=jobs, watch=watch)) == ()


def test_a_failed_set_is_the_cause_that_is_named() -> None:
    now, new = disturbed(a_set_fails)
    reasons = [one.reason for one in moved_jobs(published()[0], published()[1], now, new)]
    out = {reason.figures["heater_set"] for reason in reasons if reason.code == "set_out"}
    assert out == {_in_use(lambda stage: (stage.heater_set,))}
    assert all(
        "is out Wed 4 Mar 11:00 to Thu 5 Mar 11:00" in r.message for r in reasons if r.code == "set_out"
    )


def test_a_week_that_nothing_disturbs_stays_as_it_is() -> None:
    plan = published()[1]
    found = replan(in_hand(), plan, stability=100, limits=SolveLimits(work=0.02))
    assert score(in_hand(), found.jobs).lateness <= score(in_hand(), plan.jobs).lateness
    assert len({move.job for move in moves_between(plan, found)}) <= 3


def test_the_same_work_and_seed_give_the_same_plan() -> None:
    now, plan = disturbed(a_set_fails)
    assert replan(now, published()[1], stability=100, limits=LIMITS) == plan
