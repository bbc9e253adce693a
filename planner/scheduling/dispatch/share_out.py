"""From the board to a schedule: pools shared out to their members, and the watch to the attendants."""

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.scheduling.dispatch.attendance import watch_of
from planner.scheduling.dispatch.bay import Bay, BayJob
from planner.scheduling.dispatch.board import Board, PieceAt, Placement
from planner.scheduling.dispatch.pieces import Piece

Stay = tuple[int, int, int, int]
"""Start and end slot of a use, the job's number and the stay's number in it."""
_NOBODY: Mapping[str, PlannedJob] = MappingProxyType({})


def schedule_of(board: Board, wanted: Mapping[str, PlannedJob] = _NOBODY) -> Schedule:
    """The board's plan with every position, heater set, technician and attendant named.

    Jobs keep the positions and sets that they have in `wanted` where those are free.
    """
    bay = board.bay
    placed = [placement for placement in board.placements if placement is not None]
    positions, sets = _positions(bay, placed, wanted), _sets(bay, placed, wanted)
    jobs = tuple(
        PlannedJob(id=bay.jobs[one.job].id, stages=tuple(_stages(bay, one, positions, sets)))
        for one in placed
    )
    return Schedule(
        jobs=jobs, watch=watch_of(bay, jobs, {bay.jobs[one.job].id: one.attendant for one in placed})
    )


def _positions(
    bay: Bay, placed: Iterable[Placement], wanted: Mapping[str, PlannedJob]
) -> dict[tuple[int, int], str]:
    """The position of each (job, stay)."""
    names: dict[tuple[int, int], str] = {}
    uses: dict[int, list[Stay]] = {}
    for one in placed:
        for stay, held in _held(bay.jobs[one.job], one):
            if held[0].place is not None:
                end = held[-1].start + held[-1].length
                uses.setdefault(held[0].place, []).append((held[0].start, end, one.job, stay))
        if before := wanted.get(bay.jobs[one.job].id):
            for piece in bay.jobs[one.job].pieces:
                if piece.stay is not None and (position := before.stages[piece.stages[0]].position):
                    names.setdefault((one.job, piece.stay), position)
    return {
        key: member for pool in uses for key, member in _shared(bay.places[pool].members, uses[pool], names)
    }


def _held(job: BayJob, placement: Placement) -> Iterator[tuple[int, list[PieceAt]]]:
    """The stays of a placed job with their pieces."""
    stays: dict[int, list[PieceAt]] = {}
    for piece, stand in zip(job.pieces, placement.pieces, strict=True):
        if piece.stay is not None:
            stays.setdefault(piece.stay, []).append(stand)
    yield from stays.items()


def _sets(
    bay: Bay, placed: Iterable[Placement], wanted: Mapping[str, PlannedJob]
) -> dict[tuple[int, int], str]:
    """The heater set of each (job, 0)."""
    names: dict[tuple[int, int], str] = {}
    uses: dict[int, list[Stay]] = {}
    for one in placed:
        if one.set_pool is None:
            continue
        stands = [
            at for piece, at in zip(bay.jobs[one.job].pieces, one.pieces, strict=True) if piece.in_block
        ]
        end = stands[-1].start + stands[-1].length + bay.sets[one.set_pool].turnaround
        uses.setdefault(one.set_pool, []).append((stands[0].start, end, one.job, 0))
        if before := wanted.get(bay.jobs[one.job].id):
            names[one.job, 0] = next((stage.heater_set for stage in before.stages if stage.heater_set), "")
    return {
        key: member for pool in uses for key, member in _shared(bay.sets[pool].members, uses[pool], names)
    }


def _shared(
    members: tuple[str, ...], uses: list[Stay], names: Mapping[tuple[int, int], str]
) -> Iterator[tuple[tuple[int, int], str]]:
    """Each use with a member that is free for it, in order of start: the one named, else one nobody names."""
    free_from = dict.fromkeys(members, -1)
    order = sorted(uses)
    for place, (start, end, job, stay) in enumerate(order):
        # Locked uses may touch inside one slot; only a pool of one holds them.
        free = [member for member in members if free_from[member] <= start] or list(members[:1])
        named = names.get((job, stay))
        if named not in free:
            soon = {names.get(use[2:]) for use in order[place + 1 :] if use[0] < end} if names else ()
            named = next((member for member in free if member not in soon), free[0])
        free_from[named] = end
        yield (job, stay), named


def _stages(
    bay: Bay, placement: Placement, positions: dict[tuple[int, int], str], sets: dict[tuple[int, int], str]
) -> Iterator[PlannedStage]:
    for piece, stand in zip(bay.jobs[placement.job].pieces, placement.pieces, strict=True):
        if piece.locked:
            yield from piece.locked
            continue
        position = positions[placement.job, piece.stay] if piece.stay is not None else None
        heater_set = sets[placement.job, 0] if piece.in_block else None
        yield from _stages_of_piece(bay, placement.job, piece, stand, position, heater_set)


def _stages_of_piece(
    bay: Bay, job: int, piece: Piece, stand: PieceAt, position: str | None, heater_set: str | None
) -> Iterator[PlannedStage]:
    stages = bay.problem.jobs[job].stages
    crews = {work.stage: crew for work, crew in zip(piece.hands_on, stand.crews, strict=True)}
    ends = (*piece.offsets[1:], stand.length)
    for index, offset, end in zip(piece.stages, piece.offsets, ends, strict=True):
        yield PlannedStage(
            name=stages[index].name,
            start=bay.grid.minute(stand.start + offset),
            end=bay.grid.minute(stand.start + end),
            technicians=tuple(bay.crew[number].id for number in crews.get(index, ())),
            position=position,
            heater_set=heater_set,
        )
