"""Whether somebody can attend every hot minute, and who."""

from collections import defaultdict
from collections.abc import Sequence
from itertools import product

from planner.domain.bay_time import Span
from planner.domain.plan import Watch
from planner.domain.problem import BayProblem
from tests.lib.brute_force.demands import Demands
from tests.lib.brute_force.minutes import attendable, minutes


def attend(problem: BayProblem, taken: Sequence[Demands]) -> tuple[Watch, ...] | None:
    """A watch over all hot minutes; None where there is none."""
    free = {one.id: attendable(problem, one) for one in problem.technicians}
    if not problem.rules.attendant_may_work:
        for demand in taken:
            for name, busy in demand.busy.items():
                free[name] &= ~busy
    hot = [demand for demand in taken if demand.watched]
    by_step = _with_handover if problem.rules.handover_allowed else _without_handover
    return by_step(problem, hot, free)


def _steps(problem: BayProblem) -> list[tuple[Span, int]]:
    grid = problem.grid_minutes
    starts = range(0, problem.horizon_end, grid)
    return [(Span(start, start + grid), minutes(start, start + grid)) for start in starts]


def _with_handover(
    problem: BayProblem, hot: Sequence[Demands], free: dict[str, int]
) -> tuple[Watch, ...] | None:
    watches: list[Watch] = []
    for span, step in _steps(problem):
        tyres = [demand.job.id for demand in hot if demand.watched & step]
        if not tyres:
            continue
        names = [name for name, minutes_free in free.items() if not step & ~minutes_free]
        for name in names:
            mine, tyres = (
                tyres[: problem.rules.cures_per_attendant],
                tyres[problem.rules.cures_per_attendant :],
            )
            if mine:
                watches.append(Watch(technician=name, span=span, jobs=tuple(mine)))
        if tyres:
            return None
    return tuple(watches)


def _without_handover(
    problem: BayProblem, hot: Sequence[Demands], free: dict[str, int]
) -> tuple[Watch, ...] | None:
    for attendants in product(free, repeat=len(hot)):
        if any(demand.watched & ~free[name] for demand, name in zip(hot, attendants, strict=True)):
            continue
        watches = _named(problem, hot, attendants)
        if watches is not None:
            return watches
    return None


def _named(
    problem: BayProblem, hot: Sequence[Demands], attendants: Sequence[str]
) -> tuple[Watch, ...] | None:
    watches: list[Watch] = []
    for span, step in _steps(problem):
        tyres: dict[str, list[str]] = defaultdict(list)
        for demand, name in zip(hot, attendants, strict=True):
            if demand.watched & step:
                tyres[name].append(demand.job.id)
        if any(len(mine) > problem.rules.cures_per_attendant for mine in tyres.values()):
            return None
        watches.extend(Watch(technician=name, span=span, jobs=tuple(mine)) for name, mine in tyres.items())
    return tuple(watches)
