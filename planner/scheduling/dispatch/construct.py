"""The constructive planner: one job after another at the place where it ends earliest."""

from collections.abc import Iterable
from random import Random

from planner.domain.plan import Schedule, Score
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.domain.sentences import _
from planner.scheduling.dispatch.bay import Bay, BayJob, bay_of
from planner.scheduling.dispatch.board import Board, Snapshot
from planner.scheduling.dispatch.insertion import Insertion
from planner.scheduling.dispatch.locked import LockedWorkError, locked_work_take
from planner.scheduling.dispatch.orders import RULES, by_loss, in_sequence, ordered, shaken
from planner.scheduling.dispatch.share_out import schedule_of

_MUST_TRIES = 200


def dispatch(
    problem: BayProblem, *, seed: int = 0, restarts: int = 4, stop: StopSignal | None = None
) -> Schedule:
    """The best plan of all priority rules and of `restarts` shaken repeats of the best of them.

    The plan holds every rule of the bay. Raises LockedWorkError where locked work alone breaks one.
    The same problem, seed and restarts give the same plan; `stop` is asked after each order.
    """
    board = board_of(bay_of(problem))
    best_plan(board, seed=seed, restarts=restarts, stop=stop)
    return schedule_of(board)


def board_of(bay: Bay) -> Board:
    """A board with the locked work, and all that it makes necessary, in place.

    Raises LockedWorkError where that cannot be done.
    """
    board = Board(bay)
    breaches = locked_work_take(board)
    if breaches:
        raise LockedWorkError(breaches)
    musts = in_sequence(bay, [job for job in bay.jobs if job.must])
    untouched, insertion, random = board.snapshot(), Insertion.on(board), Random(0)  # noqa: S311
    stuck: BayJob | None = None
    for _try in range(_MUST_TRIES):
        stuck = _place_all(board, insertion, musts)
        if stuck is None:
            return board
        board.restore(untouched)
        # Whoever found no room goes first next time, among a few others moved at random.
        musts = in_sequence(bay, [stuck, *(job for job in shaken(musts, random, 0.3) if job is not stuck)])
    raise LockedWorkError(
        [_("job {job} cannot be finished around the locked work", job=stuck.id) if stuck else ""]
    )


def _place_all(board: Board, insertion: Insertion, jobs: Iterable[BayJob]) -> BayJob | None:
    """Place all `jobs`; the first that fits nowhere comes back."""
    for job in jobs:
        placement = insertion.find(board, job)
        if placement is None:
            return job
        board.place(placement)
    return None


def best_plan(board: Board, *, seed: int, restarts: int, stop: StopSignal | None = None) -> Score:
    """Fill `board` with the best plan found; its score."""
    insertion, random, empty = Insertion.on(board), Random(seed), board.snapshot()  # noqa: S311
    orders = [ordered(board.bay, rank) for rank in RULES]
    best: tuple[Score, int, Snapshot] | None = None
    for number in range(len(RULES) + restarts):
        if number >= len(RULES) and best is not None:
            orders.append(in_sequence(board.bay, shaken(orders[best[1]], random, 0.15)))
        score = _filled(board, insertion, orders[number])
        if best is None or score < best[0]:
            best = (score, number, board.snapshot())
        board.restore(empty)
        if stop is not None and stop():
            break
    if best is None:
        return score_of(board)
    board.restore(best[2])
    return best[0]


def fill(board: Board) -> None:
    """Place every job that still fits, those that lose most by being left out first."""
    _filled(board, Insertion.on(board), ordered(board.bay, by_loss))


def _filled(board: Board, insertion: Insertion, order: Iterable[BayJob]) -> Score:
    for job in order:
        if board.placements[job.number] is None:
            placement = insertion.find(board, job)
            if placement is not None:
                board.place(placement)
    return score_of(board)


def score_of(board: Board) -> Score:
    """The planner's own reckoning of lateness and flow."""
    lateness = flow = 0
    for job, placement in zip(board.bay.jobs, board.placements, strict=True):
        if placement is None:
            lateness += job.cost_left_out
        else:
            lateness += job.lateness(placement.end)
            flow += placement.end
    return Score(lateness, flow)
