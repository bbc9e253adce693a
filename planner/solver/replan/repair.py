"""A new plan that keeps what it can of the published one."""

from dataclasses import replace
from random import Random

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.scheduling.dispatch.bay import BayJob, bay_of
from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.construct import board_of, fill
from planner.scheduling.dispatch.insertion import Insertion
from planner.scheduling.dispatch.orders import in_sequence
from planner.scheduling.dispatch.share_out import schedule_of
from planner.solver.budget import Budget
from planner.solver.improvement.cooling import INSERTIONS_PER_WORK
from planner.solver.limits import SolveLimits
from planner.solver.replan.promise import Promise, at_home, by_id
from planner.solver.replan.steady_walk import MildCooling, SteadyWalk

ROUND_INSERTIONS = 250
USUAL_WORK = 1.5
"""What a search spends that has no limit of work: somebody is waiting in the bay."""


def replan(
    problem: BayProblem,
    published: Schedule,
    *,
    stability: int,
    limits: SolveLimits,
    stop: StopSignal | None = None,
) -> Schedule:
    """The best plan found where each minute that a stage moves costs `stability` hundredths of a late minute.

    Technicians, positions and sets keep their names where they are free. With a stability of 0 only the
    score counts. The same problem, seed and work give the same plan; seconds only end the search.
    Raises LockedWorkError where locked work breaks a rule by itself.
    """
    limits = replace(limits, work=USUAL_WORK if limits.work is None else limits.work, workers=1)
    budget = Budget(limits, stop)
    board = board_of(bay_of(problem))
    promise = Promise.of(board.bay, published, stability)
    _take_home(board, promise)
    fill(board)
    walk = SteadyWalk(board, Random(f"{limits.seed}/0"), MildCooling.of(board.bay, limits), promise)  # noqa: S311
    while not budget.is_spent():
        before = walk.insertions
        walk.advance(
            min(ROUND_INSERTIONS, int(budget.work_left() * INSERTIONS_PER_WORK) + 1), budget.is_spent
        )
        budget.work_done((walk.insertions - before) / INSERTIONS_PER_WORK)
    walk.settle()
    board.restore(walk.best)
    return schedule_of(board, by_id(published))


def _take_home(board: Board, promise: Promise) -> None:
    """Put every job where it was published, then those that no longer fit there as near to it as they go.

    Work in hand comes first; where some of it finds no room that way, the board stays as it was.
    """
    as_it_was, insertion = board.snapshot(), Insertion.on(board)
    for job in board.bay.jobs:
        if board.placements[job.number] is not None:
            board.remove(job.number)
    for must in (True, False):
        jobs = [job for job in board.bay.jobs if job.must is must and (must or job.number in promise.homes)]
        _take_each_home(board, insertion, jobs, promise)
        if any(job.must and board.placements[job.number] is None for job in board.bay.jobs):
            board.restore(as_it_was)


def _take_each_home(board: Board, insertion: Insertion, jobs: list[BayJob], promise: Promise) -> None:
    order = [job for job in in_sequence(board.bay, jobs) if job in jobs]
    for exactly in (True, False):
        for job in order:
            home = promise.homes.get(job.number)
            if board.placements[job.number] is not None or (exactly and home is None):
                continue
            placement = insertion.find(board, job, near=home)
            if placement is not None and (not exactly or (home and at_home(board.bay, home, placement))):
                board.place(placement)
