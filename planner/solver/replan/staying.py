"""Whether a job could still stand where it was published, on a board with others around it."""

from collections.abc import Iterable

from planner.domain.plan import PlannedJob
from planner.domain.problem import BayProblem
from planner.scheduling.dispatch.bay import BayJob, bay_of
from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.insertion import Insertion
from planner.scheduling.dispatch.locked import locked_work_take
from planner.scheduling.dispatch.orders import in_sequence
from planner.scheduling.dispatch.pieces import Piece
from planner.scheduling.dispatch.restore import stands_of
from planner.solver.replan.promise import at_home, same_times


class Neighbours:
    """A board with work in hand and `jobs` where a plan has them; those that do not fit are left away."""

    def __init__(self, problem: BayProblem, jobs: Iterable[PlannedJob]) -> None:
        bay = bay_of(problem)
        self.board = Board(bay)
        locked_work_take(self.board)
        self._insertion = Insertion.on(self.board)
        self._numbers = {job.id: job.number for job in bay.jobs}
        self._planned: dict[str, PlannedJob] = {}
        planned = {job.id: job for job in jobs if job.id in self._numbers}
        for job in in_sequence(bay, [bay.jobs[self._numbers[id_]] for id_ in planned]):
            if job.id in planned:
                self.add(planned[job.id])

    def add(self, planned: PlannedJob) -> bool:
        """Put a job exactly at its times, if that can be."""
        job = self._job(planned.id)
        home = tuple(stands_of(self.board.bay, job, planned))
        placement = self._insertion.find(self.board, job, near=home)
        if placement is None or not same_times(job, home, placement):
            return False
        self.board.place(placement)
        self._planned[planned.id] = planned
        return True

    def take(self, id_: str) -> PlannedJob | None:
        """Take a job off, to be added again by what comes back; None where it does not stand here."""
        if self.board.placements[self._numbers[id_]] is None:
            return None
        self.board.remove(self._numbers[id_])
        return self._planned.pop(id_)

    def allow(self, planned: PlannedJob, *, with_names: bool) -> bool:
        """Whether a job that is not here could stand at its times; `with_names`: with its own hands."""
        job = self._job(planned.id)
        if any(_stands_elsewhere(piece, planned) for piece in job.pieces):
            return False
        home = tuple(stands_of(self.board.bay, job, planned))
        placement = self._insertion.find(self.board, job, near=home)
        if placement is None or not same_times(job, home, placement):
            return False
        return not with_names or at_home(self.board.bay, home, placement)

    def keep(self, planned: PlannedJob, first: Iterable[PlannedJob], *, with_names: bool) -> bool:
        """As `allow`, where the job may stand here already; `first` are the jobs that it has to follow."""
        itself = self.take(planned.id)
        added = [one.id for one in first if one.id not in self._planned and self.add(one)]
        allowed = self.allow(planned, with_names=with_names)
        for one in added:
            self.take(one)
        if itself is not None:
            self.add(itself)
        return allowed

    def others(self, but: str) -> list[str]:
        """Who stands here beside a job."""
        return [id_ for id_ in self._planned if id_ != but]

    def _job(self, id_: str) -> BayJob:
        return self.board.bay.jobs[self._numbers[id_]]


def _stands_elsewhere(piece: Piece, planned: PlannedJob) -> bool:
    """Whether a stage is locked at other times than it was planned at; who does it is on record."""
    return any(locked.span != planned.stages[piece.stages[0]].span for locked in piece.locked)
