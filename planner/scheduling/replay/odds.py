"""The odds of each tyre: how many replays of the plan had it ready in time, and by when."""

import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.scheduling.replay.calendar import BayCalendar
from planner.scheduling.replay.course import Course
from planner.scheduling.replay.piece import Piece, pieces_of
from planner.scheduling.replay.spread import Spread, Spreads, spread_of


@dataclass(frozen=True, slots=True, kw_only=True)
class JobOdds:
    """What the replays say of one planned job.

    `in_time` is the share ready by `needed_by` [1]; `p50` and `p90` are ready times [min after the horizon's
    start], None where that many replays did not finish its work within the horizon; `unattended` is the share
    in which a cure, once started, outlasted those who could attend it [1]. `held` is the share in which a
    stage began after the shift in which it was planned [1], `held_at` the one that most often was the first.
    """

    job: str
    in_time: float
    p50: int | None
    p90: int | None
    unattended: float
    held: float = 0.0
    held_at: str = ""


def odds_for(
    problem: BayProblem,
    schedule: Schedule,
    *,
    spreads: Spreads | None = None,
    replays: int = 2000,
    seed: int = 0,
    stop: StopSignal | None = None,
) -> tuple[JobOdds, ...]:
    """Replay the plan `replays` times; the same seed gives the same odds, a stop those of fewer replays.

    Nobody plans anew in a replay, so the odds of a tyre late in the plan are what they are if nobody does.
    """
    pieces = pieces_of(problem, schedule)
    starts = [stage.start for job in schedule.jobs for stage in job.stages]
    calendar = BayCalendar(problem, min([0, *starts]))
    draws = _spreads_in_order(problem, schedule, spreads or {})
    generator = random.Random(seed)  # noqa: S311 (odds, not secrets)
    courses = []
    for _ in range(replays):
        if stop is not None and stop():
            break
        courses.append(_replayed(problem, calendar, pieces, [s.factor(generator.gauss()) for s in draws]))
    due = {job.id: job.needed_by for job in problem.jobs}
    return tuple(_odds_of(job.id, due[job.id], courses) for job in schedule.jobs)


def _replayed(
    problem: BayProblem, calendar: BayCalendar, pieces: Sequence[Piece], factors: Sequence[float]
) -> Course:
    course = Course(problem, calendar, factors)
    course.run(pieces)
    return course


def _spreads_in_order(problem: BayProblem, schedule: Schedule, spreads: Spreads) -> list[Spread]:
    jobs = {job.id: job for job in problem.jobs}
    return [spread_of(spreads, job.id, stage) for job in schedule.jobs for stage in jobs[job.id].stages]


def _odds_of(job: str, needed_by: int, courses: Sequence[Course]) -> JobOdds:
    ends = sorted(course.ends[job] for course in courses if job in course.ends)
    count = max(1, len(courses))
    held = Counter(course.held[job] for course in courses if job in course.held)
    return JobOdds(
        job=job,
        in_time=sum(end <= needed_by for end in ends) / count,
        p50=_percentile(ends, 50, count),
        p90=_percentile(ends, 90, count),
        unattended=sum(job in course.unattended for course in courses) / count,
        held=held.total() / count,
        held_at=max(held, key=lambda stage: held[stage], default=""),
    )


def _percentile(ends: Sequence[int], percent: int, count: int) -> int | None:
    """The least end that `percent` of `count` replays were no later than (nearest rank)."""
    rank = -(-percent * count // 100)
    return ends[rank - 1] if 0 < rank <= len(ends) else None
