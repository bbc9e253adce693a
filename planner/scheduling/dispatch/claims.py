"""What a job takes from the board once it is known where its pieces stand."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.scheduling.dispatch.bay import Bay, BayJob
from planner.scheduling.dispatch.board import Claim, PieceAt, Placement
from planner.scheduling.dispatch.lines import Lines
from planner.scheduling.dispatch.pieces import Piece
from planner.scheduling.dispatch.route import Held
from planner.scheduling.dispatch.timeline import slots_between

Crew = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a piece stands, what it holds and who works on each of its hands-on stages."""

    held: Held
    start: int
    length: int
    crews: tuple[Crew, ...]

    @property
    def end(self) -> int:
        """The slot in which it is over."""
        return self.start + self.length

    def manned(self, crews: tuple[Crew, ...]) -> "Stand":
        """The same with its crews."""
        return Stand(held=self.held, start=self.start, length=self.length, crews=crews)


def placement_of(bay: Bay, lines: Lines, job: BayJob, stands: list[Stand]) -> Placement:
    """The placement of `job` with all that it claims."""
    work = tuple(_work(job, stands))
    claims = (
        *_stays(job, stands),
        *_block(bay, lines, job, stands),
        *_supply(bay, lines, job, stands),
        *_watch(bay, lines, job, stands),
        *_missed(bay, lines, work),
    )
    last = job.pieces[-1]
    end = last.locked[0].end if last.locked else bay.grid.minute(stands[-1].end)
    return Placement(
        job=job.number,
        pieces=tuple(PieceAt(start=s.start, length=s.length, place=s.held[0], crews=s.crews) for s in stands),
        set_pool=next((s.held[1] for s in stands if s.held[1] is not None), None),
        attendant=next((s.held[2] for s in stands if s.held[2] is not None), None),
        start=stands[0].start,
        end=end,
        work=work,
        claims=claims,
    )


def locked_slots(pieces: tuple[Piece, ...], stands: list[Stand]) -> int:
    """The slots of locked pieces and those between two of them: the board has them taken from the start."""
    slots, before = 0, None
    for piece, stand in zip(pieces, stands, strict=True):
        if piece.locked_start is not None:
            slots |= slots_between(stand.start if before is None else min(before, stand.start), stand.end)
        before = stand.end if piece.locked_start is not None else None
    return slots


def _work(job: BayJob, stands: list[Stand]) -> Iterator[tuple[int, int]]:
    for piece, stand in zip(job.pieces, stands, strict=True):
        for work, crew in zip(piece.hands_on, stand.crews, strict=True):
            length = stand.length if piece.pausable else work.length
            slots = slots_between(stand.start + work.offset, stand.start + work.offset + length)
            yield from ((technician, slots) for technician in crew)


def _stays(job: BayJob, stands: list[Stand]) -> Iterator[Claim]:
    for stay in sorted({piece.stay for piece in job.pieces if piece.stay is not None}):
        members = [number for number, piece in enumerate(job.pieces) if piece.stay == stay]
        first, last = members[0], members[-1]
        held = stands[first : last + 1]
        place = held[0].held[0]
        slots = slots_between(held[0].start, held[-1].end) & ~locked_slots(job.pieces[first : last + 1], held)
        if place is not None and slots:
            yield place, slots, 1


def _block(bay: Bay, lines: Lines, job: BayJob, stands: list[Stand]) -> Iterator[Claim]:
    block = [number for number, piece in enumerate(job.pieces) if piece.in_block]
    if not block:
        return
    held, pieces = stands[block[0] : block[-1] + 1], job.pieces[block[0] : block[-1] + 1]
    number = held[0].held[1]
    if number is None:
        return
    turnaround = bay.sets[number].turnaround if pieces[-1].locked_start is None else 0
    slots = slots_between(held[0].start, held[-1].end + turnaround) & ~locked_slots(pieces, held)
    if slots:
        yield lines.first_set + number, slots, 1


def _supply(bay: Bay, lines: Lines, job: BayJob, stands: list[Stand]) -> Iterator[Claim]:
    for piece, stand in zip(job.pieces, stands, strict=True):
        if piece.locked_start is not None or stand.held[1] is None:
            continue
        pool = bay.sets[stand.held[1]]
        slots = _within(piece.energised, stand.start)
        if slots and pool.power and bay.supply.power is not None:
            yield lines.power, slots, pool.power
        if slots and pool.channels and bay.supply.channels is not None:
            yield lines.channels, slots, pool.channels


def _watch(bay: Bay, lines: Lines, job: BayJob, stands: list[Stand]) -> Iterator[Claim]:
    """The watch; the shared one of locked work is taken from the start."""
    for piece, stand in zip(job.pieces, stands, strict=True):
        attendant = stand.held[2]
        if piece.locked_start is not None and attendant is None:
            continue
        slots = _within(piece.watched, stand.start) >> bay.grid.first << bay.grid.first
        if slots:
            yield lines.watch[attendant or 0], slots, 1


def _missed(bay: Bay, lines: Lines, work: tuple[tuple[int, int], ...]) -> Iterator[Claim]:
    """Where attendants may not work, what the watch misses while they do."""
    if bay.problem.rules.attendant_may_work:
        return
    for technician, slots in work:
        missed = slots & bay.crew[technician].attending
        if missed:
            yield lines.watch[technician], missed, bay.problem.rules.cures_per_attendant


def _within(stretches: tuple[tuple[int, int], ...], start: int) -> int:
    slots = 0
    for offset, length in stretches:
        slots |= slots_between(start + offset, start + offset + length)
    return slots
