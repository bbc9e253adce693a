"""What some replays of a plan came to, job by job: tallies of different replays add up."""

import random
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.scheduling.replay.calendar import BayCalendar
from planner.scheduling.replay.course import Course
from planner.scheduling.replay.piece import pieces_of
from planner.scheduling.replay.spread import Spread, Spreads, spread_of


@dataclass(slots=True)
class JobTally:
    """One job in some replays.

    `ends` are the minutes at which it was done, in no order [min after the horizon's start], `held` counts
    the first stages that began after their planned shift, `unattended` the replays in which a cure, once
    started, outlasted those who could attend it.
    """

    ends: list[int] = field(default_factory=list)
    held: Counter[str] = field(default_factory=Counter)
    unattended: int = 0


@dataclass(slots=True)
class Tally:
    """All planned jobs, in the plan's order, in so many replays."""

    jobs: dict[str, JobTally]
    replays: int = 0

    def add(self, other: "Tally") -> None:
        """Count the replays of another tally of the same plan too."""
        self.replays += other.replays
        for name, one in other.jobs.items():
            job = self.jobs[name]
            job.ends += one.ends
            job.held += one.held
            job.unattended += one.unattended

    def note(self, course: Course) -> None:
        """Count one more replay."""
        self.replays += 1
        for name, job in self.jobs.items():
            if name in course.ends:
                job.ends.append(course.ends[name])
            if name in course.held:
                job.held[course.held[name]] += 1
            job.unattended += name in course.unattended


def replays_tally(
    problem: BayProblem,
    schedule: Schedule,
    *,
    numbers: Iterable[int],
    spreads: Spreads | None = None,
    seed: int = 0,
    stop: StopSignal | None = None,
) -> Tally:
    """Replay the plan once for each of `numbers`; a stop ends it early.

    What a replay draws follows from the seed and its number alone, so it does not matter who replays which.
    """
    pieces = pieces_of(problem, schedule)
    starts = [stage.start for job in schedule.jobs for stage in job.stages]
    calendar = BayCalendar(problem, min([0, *starts]))
    draws = _spreads_in_order(problem, schedule, spreads or {})
    tally = Tally({job.id: JobTally() for job in schedule.jobs})
    for number in numbers:
        if stop is not None and stop():
            break
        generator = random.Random(f"{seed}/{number}")  # noqa: S311 (odds, not secrets)
        course = Course(problem, calendar, [spread.factor(generator.gauss()) for spread in draws])
        course.run(pieces)
        tally.note(course)
    return tally


def _spreads_in_order(problem: BayProblem, schedule: Schedule, spreads: Spreads) -> Sequence[Spread]:
    jobs = {job.id: job for job in problem.jobs}
    return [spread_of(spreads, job.id, stage) for job in schedule.jobs for stage in jobs[job.id].stages]
