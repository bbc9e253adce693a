"""Pieces of a plan: what a replay starts as one."""

from dataclasses import dataclass
from itertools import groupby

from planner.domain.bay_time import round_up
from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.work import Job, Stage, StageKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One stage as planned; `place` counts it through the whole plan, for its draw.

    `nominal` is its planned length, breaks included; `asked` the minutes of work that the plan holds for it,
    which a draw scales: a locked stage's are those of its lock [min].
    """

    stage: Stage
    planned: PlannedStage
    place: int
    first_of_stay: bool
    last_of_stay: bool
    locked: bool
    nominal: int
    asked: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A stage on its own, or a whole heat block, which is never interrupted; with what follows it."""

    job: Job
    parts: tuple[Part, ...]
    following: "Piece | None"

    @property
    def start(self) -> int:
        """Its planned start [min after the horizon's start]."""
        return self.parts[0].planned.start

    @property
    def end(self) -> int:
        """Its planned end [min after the horizon's start]."""
        return self.parts[-1].planned.end

    @property
    def is_rest(self) -> bool:
        """Whether it needs nobody and nothing but time."""
        return self.parts[0].stage.kind is StageKind.WAIT

    @property
    def crew(self) -> tuple[str, ...]:
        """Whom it calls first; nobody where it is no work by hand."""
        return next((part.planned.technicians for part in self.parts if part.planned.technicians), ())

    @property
    def takes(self) -> str | None:
        """The position on which its tyre comes to stand."""
        return self.parts[0].planned.position if self.parts[0].first_of_stay else None

    @property
    def leaves(self) -> tuple[str, ...]:
        """The positions that its tyre leaves with it."""
        spots = (part.planned.position for part in self.parts if part.last_of_stay)
        return tuple(spot for spot in spots if spot is not None)

    @property
    def is_block(self) -> bool:
        """Whether it is the job's heat block."""
        return self.parts[0].stage.block


def pieces_of(problem: BayProblem, schedule: Schedule) -> tuple[Piece, ...]:
    """The first piece of each planned job, the others behind it."""
    jobs = {job.id: job for job in problem.jobs}
    locked = {(lock.id, stage.name) for lock in problem.locked for stage in lock.stages}
    pieces: list[Piece] = []
    place = 0
    for planned in schedule.jobs:
        job = jobs[planned.id]
        pieces.append(_first_of(job, planned, place, locked, problem.grid_minutes))
        place += len(job.stages)
    return tuple(pieces)


def _first_of(
    job: Job, planned: PlannedJob, place: int, locked: set[tuple[str, str]], grid_minutes: int
) -> Piece:
    firsts = {stay.start for stay in job.stays()}
    lasts = {stay.stop - 1 for stay in job.stays()}
    parts = [
        Part(
            stage=stage,
            planned=at,
            place=place + index,
            first_of_stay=index in firsts,
            last_of_stay=index in lasts,
            locked=(is_locked := (job.id, stage.name) in locked),
            nominal=(nominal := at.end - at.start),
            asked=round_up(nominal if is_locked else stage.minutes, grid_minutes),
        )
        for index, (stage, at) in enumerate(zip(job.stages, planned.stages, strict=True))
    ]
    runs = groupby(parts, key=lambda part: "block" if part.stage.block else part.place)
    first, *others = [tuple(run) for _, run in runs]
    following = None
    for run in reversed(others):
        following = Piece(job=job, parts=run, following=following)
    return Piece(job=job, parts=first, following=following)
