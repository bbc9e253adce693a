"""Pieces of a plan: what a replay starts as one, in the plan's own order."""

from dataclasses import dataclass
from itertools import groupby

from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.work import Job, Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One stage as planned; `place` counts it through the whole plan, for its draw."""

    stage: Stage
    planned: PlannedStage
    place: int
    first_of_stay: bool
    last_of_stay: bool
    locked: bool

    @property
    def work(self) -> int:
        """The minutes of work that a draw scales: a locked stage's are those of its lock [min]."""
        return self.nominal if self.locked else self.stage.minutes

    @property
    def nominal(self) -> int:
        """Its planned length, breaks included [min]."""
        return self.planned.end - self.planned.start


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A stage on its own, or a whole heat block, which is never interrupted."""

    job: Job
    parts: tuple[Part, ...]
    ends_job: bool

    @property
    def start(self) -> int:
        """Its planned start [min after the horizon's start]."""
        return self.parts[0].planned.start

    @property
    def is_block(self) -> bool:
        """Whether it is the job's heat block."""
        return self.parts[0].stage.block


def pieces_of(problem: BayProblem, schedule: Schedule) -> tuple[Piece, ...]:
    """The plan's pieces by planned start: whatever one waits for comes before it."""
    jobs = {job.id: job for job in problem.jobs}
    locked = {(lock.id, stage.name) for lock in problem.locked for stage in lock.stages}
    pieces: list[Piece] = []
    place = 0
    for planned in schedule.jobs:
        job = jobs[planned.id]
        pieces += _pieces_of_job(job, planned, place, locked)
        place += len(job.stages)
    return tuple(sorted(pieces, key=lambda piece: (piece.start, piece.parts[0].planned.end)))


def _pieces_of_job(job: Job, planned: PlannedJob, place: int, locked: set[tuple[str, str]]) -> list[Piece]:
    firsts = {stay.start for stay in job.stays()}
    lasts = {stay.stop - 1 for stay in job.stays()}
    parts = [
        Part(
            stage=stage,
            planned=planned.stages[index],
            place=place + index,
            first_of_stay=index in firsts,
            last_of_stay=index in lasts,
            locked=(job.id, stage.name) in locked,
        )
        for index, stage in enumerate(job.stages)
    ]
    runs = groupby(parts, key=lambda part: "block" if part.stage.block else part.place)
    pieces = [tuple(run) for _, run in runs]
    return [Piece(job=job, parts=run, ends_job=run is pieces[-1]) for run in pieces]
