"""The work on one tyre in pieces that each have one start: a heat block, or a stage by itself [steps]."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.domain.bay_time import round_down, round_up
from planner.domain.plan import PlannedStage
from planner.domain.problem import BayProblem
from planner.domain.work import Job, Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Stages with fixed offsets from one start; a pausable stage is a piece by itself and may last longer."""

    job: str
    stages: range
    offsets: tuple[int, ...]
    lengths: tuple[int, ...]
    pausable: bool

    @property
    def work(self) -> int:
        """From its start to its end where nothing pauses it [steps]."""
        return self.offsets[-1] + self.lengths[-1]

    def offset_of(self, stage: int) -> int:
        """Where the stage starts inside the piece [steps]."""
        return self.offsets[stage - self.stages.start]

    def length_of(self, stage: int) -> int:
        """How long the stage works [steps]."""
        return self.lengths[stage - self.stages.start]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """The steps between the end of stage `after` and the next start; no limit where `most` is None."""

    after: int
    least: int
    most: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TyreWork:
    """One job as the solver sees it: what is locked, the pieces to place, and the waits between stages."""

    job: Job
    locked: Mapping[int, PlannedStage]
    pieces: tuple[Piece, ...]
    waits: tuple[Wait, ...]
    possible: bool

    def piece_of(self, stage: int) -> Piece:
        """The piece that the unlocked stage belongs to."""
        return next(piece for piece in self.pieces if stage in piece.stages)


def tyre_work(problem: BayProblem, job: Job, locked: Mapping[int, PlannedStage]) -> TyreWork:
    """Cut the job at its locked stages and at every wait."""
    runs = tuple(_runs(job, locked))
    inner = [stage for run in runs for stage in run[:-1]]
    waits = (_wait(problem, job, stage) for stage in range(len(job.stages) - 1) if stage not in inner)
    return TyreWork(
        job=job,
        locked=locked,
        pieces=tuple(_piece(problem, job, run) for run in runs),
        waits=tuple(wait for wait in waits if not (wait.after in locked and wait.after + 1 in locked)),
        possible=all(job.stages[stage].min_wait_after == 0 for stage in inner),
    )


def _runs(job: Job, locked: Mapping[int, PlannedStage]) -> Iterator[range]:
    start = 0
    for stage in range(1, len(job.stages) + 1):
        if (
            stage < len(job.stages)
            and _joined(job, stage)
            and stage not in locked
            and stage - 1 not in locked
        ):
            continue
        if start not in locked:
            yield range(start, stage)
        start = stage


def _joined(job: Job, stage: int) -> bool:
    before, here = job.stages[stage - 1], job.stages[stage]
    return before.block and here.block and not (before.pausable or here.pausable)


def _piece(problem: BayProblem, job: Job, run: range) -> Piece:
    lengths = tuple(steps_up(problem, job.stages[stage].minutes) for stage in run)
    return Piece(
        job=job.id,
        stages=run,
        offsets=tuple(sum(lengths[:index]) for index in range(len(lengths))),
        lengths=lengths,
        pausable=job.stages[run.start].pausable,
    )


def _wait(problem: BayProblem, job: Job, stage: int) -> Wait:
    here: Stage = job.stages[stage]
    grid, most = problem.grid_minutes, here.max_wait_after
    most_steps = None if most is None else round_down(most, grid) // grid
    if here.block and job.stages[stage + 1].block:
        most_steps = 0
    return Wait(after=stage, least=steps_up(problem, here.min_wait_after), most=most_steps)


def steps_up(problem: BayProblem, minutes: int) -> int:
    """Minutes as whole grid steps, rounded up."""
    return round_up(minutes, problem.grid_minutes) // problem.grid_minutes
