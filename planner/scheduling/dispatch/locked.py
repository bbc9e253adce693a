"""Locked work on the board: it is taken from the start and never moves."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.domain.bay_time import Span
from planner.domain.errors import UserError
from planner.domain.plan import PlannedStage
from planner.domain.sentences import Sentence, _
from planner.domain.work import Job, Stage, StageKind
from planner.scheduling.clock import bay_clock
from planner.scheduling.dispatch.bay import Bay
from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.capacity import Planes, at_least, taken
from planner.scheduling.dispatch.timeline import first_slot, slots_between


class LockedWorkError(UserError):
    """The locked work breaks a rule by itself; `breaches` says which, in plain words."""

    def __init__(self, breaches: Iterable[str]) -> None:
        self.breaches = tuple(breaches)
        super().__init__(
            _("the locked work breaks a rule by itself: {breaches:list}", breaches=self.breaches)
        )


@dataclass(frozen=True, slots=True)
class Lock:
    """A locked stage with the stage it stands for."""

    job: Job
    stage: Stage
    planned: PlannedStage


Load = tuple[Span, int]
"""A stretch of bay time and the units that are taken throughout."""


def locks_of(bay: Bay) -> tuple[Lock, ...]:
    """All locked stages, in the order of the problem."""
    jobs = {job.id: job for job in bay.problem.jobs}
    return tuple(
        Lock(jobs[locked.id], stage, planned)
        for locked in bay.problem.locked
        for planned in locked.stages
        for stage in jobs[locked.id].stages
        if stage.name == planned.name
    )


def locked_work_take(board: Board) -> tuple[str, ...]:
    """Take all locked work from an untouched board; returns where it asks for more than there is."""
    bay, lines = board.bay, board.lines
    locks = locks_of(bay)
    _take_hands(board, locks)
    _take_places_and_sets(board, locks)
    breaches = list(_take_loads(board, lines.power, _power(bay, locks), _("power")))
    breaches += _take_loads(board, lines.channels, _channels(bay, locks), _("controller channels"))
    if bay.named_watch:
        _take_attendants(board, locks)
    else:
        breaches += _take_loads(board, lines.watch[0], _watch(bay, locks), _("attendants"))
    return tuple(breaches)


def _slots(bay: Bay, span: Span) -> int:
    return slots_between(bay.grid.slot_before(span.start), bay.grid.slot_after(span.end))


def _take_hands(board: Board, locks: tuple[Lock, ...]) -> None:
    numbers = {one.id: number for number, one in enumerate(board.bay.crew)}
    for lock in locks:
        for technician in lock.planned.technicians:
            if technician in numbers:
                board.busy[numbers[technician]] |= _slots(board.bay, lock.planned.span)


def _take_places_and_sets(board: Board, locks: tuple[Lock, ...]) -> None:
    bay = board.bay
    places = {pool.members[0]: number for number, pool in enumerate(bay.places)}
    sets = {pool.members[0]: number for number, pool in enumerate(bay.sets)}
    for number, lock in enumerate(locks):
        following = locks[number + 1] if number + 1 < len(locks) else None
        slots = _slots(bay, lock.planned.span)
        together = following is not None and _touch(lock, following)
        until = bay.grid.slot_before(following.planned.start) if together and following else 0
        slots |= slots_between(bay.grid.slot_after(lock.planned.end), until)
        if lock.planned.position in places:
            line = places[lock.planned.position]
            board.left[line] = taken(board.left[line], slots, 1)
        if lock.planned.heater_set in sets:
            own = sets[lock.planned.heater_set]
            last = lock.stage is lock.job.stages[lock.job.block[-1]] if lock.job.block else False
            end = bay.grid.slot_after(lock.planned.end)
            slots |= slots_between(end, end + (bay.sets[own].turnaround if last else 0))
            line = board.lines.first_set + own
            board.left[line] = taken(board.left[line], slots, 1)


def _touch(one: Lock, other: Lock) -> bool:
    """Whether two locked stages follow one another in a stay, so that the wait between is held as well."""
    stages = one.job.stages
    following = one.job is other.job and stages.index(other.stage) == stages.index(one.stage) + 1
    return following and one.stage.place is not None and one.stage.place == other.stage.place


def _take_attendants(board: Board, locks: tuple[Lock, ...]) -> None:
    """Where attendants may not work, those in locked work watch nothing meanwhile."""
    if board.bay.problem.rules.attendant_may_work:
        return
    numbers = {one.id: number for number, one in enumerate(board.bay.crew)}
    for lock in locks:
        for technician in lock.planned.technicians:
            line = board.lines.watch[numbers[technician]]
            slots = _slots(board.bay, lock.planned.span)
            board.left[line] = tuple(plane & ~slots for plane in board.left[line])


def _power(bay: Bay, locks: tuple[Lock, ...]) -> Iterator[Load]:
    units = {pool.members[0]: pool.power for pool in bay.sets}
    if bay.supply.power is not None:
        yield from ((lock.planned.span, units[lock.planned.heater_set or ""]) for lock in _heated(locks))


def _channels(bay: Bay, locks: tuple[Lock, ...]) -> Iterator[Load]:
    units = {pool.members[0]: pool.channels for pool in bay.sets}
    if bay.supply.channels is not None:
        yield from ((lock.planned.span, units[lock.planned.heater_set or ""]) for lock in _heated(locks))


def _heated(locks: tuple[Lock, ...]) -> Iterator[Lock]:
    for lock in locks:
        if lock.stage.kind is StageKind.ENERGISED and lock.planned.heater_set:
            yield lock


def _watch(bay: Bay, locks: tuple[Lock, ...]) -> Iterator[Load]:
    """What locked work asks of the common watch: a place for each tyre, and attendants away at other work."""
    rules = bay.problem.rules
    attending = {one.id: one.attending for one in bay.crew}
    for lock in locks:
        hot = lock.stage.kind is StageKind.ENERGISED
        if hot or (lock.stage.kind is StageKind.PRESSURISED and rules.watch_cool_down):
            yield lock.planned.span, 1
        if rules.attendant_may_work:
            continue
        for technician in lock.planned.technicians:
            if attending.get(technician, 0) & _slots(bay, lock.planned.span):
                yield lock.planned.span, rules.cures_per_attendant


def _take_loads(board: Board, line: int, loads: Iterable[Load], what: Sentence) -> Iterator[str]:
    """Take the loads, slot by slot at the highest they reach inside it, since they may lie off the grid."""
    held = [(Span(max(0, span.start), span.end), units) for span, units in loads if span.end > 0 and units]
    together = 0
    for span, _units in held:
        together |= _slots(board.bay, span)
    while together:
        slot = first_slot(together)
        together &= together - 1
        peak = _peak(held, board.bay.grid.minute(slot), board.bay.grid.minutes)
        board.left[line], short = _taken_at_most(board.left[line], 1 << slot, peak)
        if short:
            yield _(
                "it asks for more {what:phrase} than there are at {when:minute}",
                what=what,
                when=bay_clock(board.bay.problem)(board.bay.grid.minute(slot)),
            )
            return


def _peak(loads: list[Load], minute: int, minutes: int) -> int:
    """The most units taken at one moment of the slot that starts at `minute`."""
    here = [(span, units) for span, units in loads if span.start < minute + minutes and minute < span.end]
    moments = {max(minute, span.start) for span, _units in here}
    return max(sum(units for span, units in here if span.start <= at < span.end) for at in moments)


def _taken_at_most(planes: Planes, slots: int, units: int) -> tuple[Planes, int]:
    """What is left after `units` are taken, and the slots where fewer were left, which are emptied."""
    enough = at_least(planes, units) & slots if units else slots
    left = taken(planes, enough, units) if units else planes
    short = slots & ~enough
    return tuple(plane & ~short for plane in left), short
