"""A job cut into pieces: runs of stages whose starts hang together rigidly."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.domain.plan import PlannedStage
from planner.domain.work import Job, Stage, StageKind
from planner.scheduling.dispatch.grid import Grid

Within = tuple[tuple[int, int], ...]
"""Stretches inside a piece as (slots after its start, length in slots)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandsOn:
    """A hands-on stage inside a piece: where it lies and the crew that it needs."""

    stage: int
    offset: int
    length: int
    crew: int
    skill: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """How many slots may lie between a piece and the next: from `least` to `greatest` (None: any number)."""

    least: int
    greatest: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Stages `stages` of a job that move as one, `length` slots long (without pauses, where it can pause).

    `stay` and `locked_start` tell which stay it belongs to (None: it holds no position) and where locked work
    stands; a piece holds one stay at most, so that a block whose stages change place is cut in two.
    """

    stages: range
    offsets: tuple[int, ...]
    length: int
    hands_on: tuple[HandsOn, ...]
    watched: Within
    energised: Within
    pausable: bool
    in_block: bool
    ends_block: bool
    place: str | None
    stay: int | None
    gap: Gap
    locked: tuple[PlannedStage, ...] = ()
    locked_start: int | None = None


def pieces_of(
    job: Job, grid: Grid, locked: dict[str, PlannedStage], watch_cool_down: bool
) -> tuple[Piece, ...]:
    """The pieces of `job`, in order; each locked stage is a piece of its own that stands still."""
    stays = {index: number for number, stay in enumerate(job.stays()) for index in stay}
    runs = tuple(_rigid_runs(job, stays, locked))
    return tuple(
        _piece(
            job,
            run,
            runs[number + 1] if number + 1 < len(runs) else None,
            grid,
            locked,
            stays,
            watch_cool_down,
        )
        for number, run in enumerate(runs)
    )


def _rigid_runs(job: Job, stays: dict[int, int], locked: dict[str, PlannedStage]) -> Iterator[range]:
    """Runs of stages that follow one another in the block, neither pause nor are locked, and share a stay."""
    start = 0
    for index in range(1, len(job.stages) + 1):
        if index < len(job.stages) and _joined(job, index, stays, locked):
            continue
        yield range(start, index)
        start = index


def _joined(job: Job, index: int, stays: dict[int, int], locked: dict[str, PlannedStage]) -> bool:
    one, other = job.stages[index - 1], job.stages[index]
    return (
        one.block
        and other.block
        and not (one.pausable or other.pausable)
        and not (one.name in locked or other.name in locked)
        and stays.get(index - 1) == stays.get(index)
        and not one.min_wait_after
    )


def _piece(
    job: Job,
    run: range,
    following: range | None,
    grid: Grid,
    locked: dict[str, PlannedStage],
    stays: dict[int, int],
    watch_cool_down: bool,
) -> Piece:
    stages = [job.stages[index] for index in run]
    lock = locked.get(stages[0].name)
    lengths = _lengths(stages, lock, grid)
    offsets = tuple(sum(lengths[:place]) for place in range(len(run)))
    hot = (StageKind.ENERGISED, StageKind.PRESSURISED) if watch_cool_down else (StageKind.ENERGISED,)
    return Piece(
        stages=run,
        offsets=offsets,
        length=sum(lengths),
        hands_on=tuple(_hands_on(stages, run, offsets, lengths)),
        watched=_stretches_of(stages, offsets, lengths, hot),
        energised=_stretches_of(stages, offsets, lengths, (StageKind.ENERGISED,)),
        pausable=stages[0].pausable,
        in_block=stages[0].block,
        ends_block=stages[0].block and run[-1] == job.block[-1],
        place=stages[0].place,
        stay=stays.get(run[0]),
        gap=_gap(job, run[-1], following, grid, locked) if following else Gap(least=0, greatest=None),
        locked=(lock,) if lock else (),
        locked_start=grid.slot_before(lock.start) if lock else None,
    )


def _lengths(stages: list[Stage], lock: PlannedStage | None, grid: Grid) -> list[int]:
    if lock:
        return [grid.slot_after(lock.end) - grid.slot_before(lock.start)]
    return [grid.length(stage.minutes) for stage in stages]


def _hands_on(
    stages: list[Stage], run: range, offsets: tuple[int, ...], lengths: list[int]
) -> Iterator[HandsOn]:
    for stage, index, offset, length in zip(stages, run, offsets, lengths, strict=True):
        if stage.skill is not None:
            yield HandsOn(stage=index, offset=offset, length=length, crew=stage.crew, skill=stage.skill)


def _stretches_of(
    stages: list[Stage], offsets: tuple[int, ...], lengths: list[int], kinds: tuple[StageKind, ...]
) -> Within:
    """Where stages of one of `kinds` lie, those that touch joined into one."""
    joined: list[tuple[int, int]] = []
    for stage, offset, length in zip(stages, offsets, lengths, strict=True):
        if stage.kind not in kinds:
            continue
        if joined and sum(joined[-1]) == offset:
            joined[-1] = (joined[-1][0], joined[-1][1] + length)
        else:
            joined.append((offset, length))
    return tuple(joined)


def _gap(job: Job, last: int, following: range, grid: Grid, locked: dict[str, PlannedStage]) -> Gap:
    """The wait after stage `last`, in slots between the grid's outlines of the two pieces."""
    stage, after = job.stages[last], job.stages[following[0]]
    least = grid.length(stage.min_wait_after) * grid.minutes
    greatest = None if stage.max_wait_after is None else stage.max_wait_after // grid.minutes * grid.minutes
    if stage.block and after.block:
        greatest = 0
    ended, begun = locked.get(stage.name), locked.get(after.name)
    # Locked work may stand off the grid: the slots around it are wider than it is.
    before = (
        grid.slot_after(ended.end) * grid.minutes - (ended.end + grid.first * grid.minutes) if ended else 0
    )
    behind = (
        begun.start + grid.first * grid.minutes - grid.slot_before(begun.start) * grid.minutes if begun else 0
    )
    slack = before + behind
    return Gap(
        least=-(-(least - slack) // grid.minutes),
        greatest=None if greatest is None else (greatest - slack) // grid.minutes,
    )
