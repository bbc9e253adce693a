"""What energised pads take of the supply: kilowatts or controller channels, as whole units."""

from collections.abc import Callable, Iterator
from decimal import Decimal
from functools import lru_cache

from planner.domain.work import StageKind
from planner.solver.choices import set_choices, stage_starts
from planner.solver.masks import Mask, room_for
from planner.solver.model import BayModel, JobVariables, Literal
from planner.solver.pieces import Piece, TyreWork
from planner.solver.places import SetPool
from planner.solver.rooms import Room, Use
from planner.solver.state import BayState

Amount = Callable[[SetPool], int]
"""What one set of a pool takes while energised."""

ENERGISED = frozenset({StageKind.ENERGISED})


def milliwatts(kilowatts: float) -> int:
    """Kilowatts as whole milliwatts, exactly as they were written down, rounded up."""
    return -int(-(Decimal(repr(kilowatts)) * 1_000_000) // 1)


def energised_runs(work: TyreWork) -> tuple[range, ...]:
    """The energised stages of the block as runs that follow one another, locked ones apart."""
    found: list[range] = []
    for stage in work.job.block:
        if work.job.stages[stage].kind is not StageKind.ENERGISED or stage in work.locked:
            continue
        if found and found[-1].stop == stage and work.piece_of(stage) is work.piece_of(stage - 1):
            found[-1] = range(found[-1].start, stage + 1)
        else:
            found.append(range(stage, stage + 1))
    return tuple(found)


@lru_cache(maxsize=64)
def supply_room(state: BayState, limit: int, amount: Amount) -> Room:
    """What standing work leaves of a limit."""
    by_set = {member: amount(pool) for pool in state.bay.sets for member in pool.members}
    uses: list[Use] = [
        (stage.start, stage.end, by_set[stage.heater_set])
        for stage in state.standing_of(ENERGISED, "supply")
        if stage.heater_set is not None
    ]
    return state.room([(0, state.bay.steps, limit)], uses)


def supply_starts(state: BayState, piece: Piece, limit: int, amount: Amount) -> Mask:
    """The steps from which the least hungry eligible set can be energised as long as the piece asks."""
    work, found = state.bay.works[piece.job], state.bay.whole
    runs = [run for run in energised_runs(work) if run.start in piece.stages]
    amounts = [amount(pool) for pool in set_choices(state, work)] if runs else []
    free = supply_room(state, limit, amount).at_least(min(amounts)) if amounts else found
    for run in runs:
        length = sum(piece.length_of(stage) for stage in run)
        found &= stage_starts(piece, run.start, room_for(free, length))
    return found


def limit_supply(model: BayModel, limit: int, amount: Amount) -> None:
    """Keep what all energised sets take within the limit at every step."""
    intervals, sizes = [], []
    for job in model.jobs.values():
        for run in energised_runs(job.work):
            for taken, size in _takings(job, amount):
                intervals.append(model.interval(job, run, taken))
                sizes.append(size)
    if limit >= sum(amount(pool) * len(pool.members) for pool in model.state.bay.sets):
        return
    model.add_cumulative(intervals, sizes, supply_room(model.state, limit, amount))


def _takings(job: JobVariables, amount: Amount) -> Iterator[tuple[Literal, int]]:
    sizes = {amount(chosen.pool) for chosen in job.sets if isinstance(chosen.pool, SetPool)}
    if len(sizes) == 1:
        yield job.planned, sizes.pop()
        return
    for chosen in job.sets:
        if isinstance(chosen.pool, SetPool):
            yield chosen.taken, amount(chosen.pool)
