"""A finished schedule put back on the board, to go on from it."""

from planner.domain.plan import PlannedJob, Schedule
from planner.scheduling.dispatch.bay import Bay, BayJob
from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.claims import Stand, placement_of
from planner.scheduling.dispatch.orders import in_sequence
from planner.scheduling.dispatch.pieces import Piece


def schedule_place(board: Board, schedule: Schedule) -> None:
    """Put all jobs of `schedule`, which must hold every rule, on a board that has none of them yet.

    Locked work that already stands on the board is left where it is: all of its stages may be locked.
    """
    planned = {job.id: job for job in schedule.jobs}
    attendants = {job: watch.technician for watch in schedule.watch for job in watch.jobs}
    bay = board.bay
    for job in bay.jobs:
        if board.placements[job.number] is not None:
            board.remove(job.number)
    for job in in_sequence(bay, bay.jobs):
        if job.id in planned:
            stands = stands_of(bay, job, planned[job.id], attendants.get(job.id))
            board.place(placement_of(bay, board.lines, job, stands))


def stands_of(bay: Bay, job: BayJob, planned: PlannedJob, attendant: str | None = None) -> list[Stand]:
    """How the pieces of a job stand in a plan; people and places that the bay no longer has are left away."""
    numbers = {one.id: number for number, one in enumerate(bay.crew)}
    places = {member: number for number, pool in enumerate(bay.places) for member in pool.members}
    sets = {member: number for number, pool in enumerate(bay.sets) for member in pool.members}
    watcher = numbers.get(attendant or "") if bay.named_watch else None
    stands = []
    for piece in job.pieces:
        first, last = planned.stages[piece.stages[0]], planned.stages[piece.stages[-1]]
        start = bay.grid.slot_before(first.start)
        held = (
            places.get(first.position or ""),
            sets.get(first.heater_set or ""),
            watcher if piece.watched else None,
        )
        crews = _crews(piece, planned, numbers)
        stands.append(Stand(held, start, bay.grid.slot_after(last.end) - start, crews))
    return stands


def _crews(piece: Piece, planned: PlannedJob, numbers: dict[str, int]) -> tuple[tuple[int, ...], ...]:
    """The crew of each hands-on stage; none for locked work, whose hands are taken from the start."""
    if piece.locked_start is not None:
        return tuple(() for _ in piece.hands_on)
    return tuple(
        tuple(
            numbers[technician]
            for technician in planned.stages[work.stage].technicians
            if technician in numbers
        )
        for work in piece.hands_on
    )
