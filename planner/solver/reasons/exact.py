"""What would let one more job in, exactly: it is put on the planned board with one thing changed."""

from dataclasses import dataclass, field

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.scheduling.dispatch.bay import BayJob, bay_of
from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.insertion import Insertion
from planner.scheduling.dispatch.locked import locked_work_take
from planner.scheduling.dispatch.restore import schedule_place
from planner.solver.levers.changes import longer_shifts

LONGER_MIN = (15, 30, 60, 120)
"""Longer shifts that are tried, shortest first; on small bays the least is then found to the grid [min]."""
FEW_JOBS = 60
MOST_GIVEN_UP = 12
"""So many planned jobs on sets that would do, the cheapest, are tried before all others."""


@dataclass(slots=True)
class Exact:
    """A plan's board, and the same with longer shifts; each made once."""

    problem: BayProblem
    schedule: Schedule
    _boards: dict[int, tuple[Board, Insertion]] = field(default_factory=dict)

    def ready(self, job: str, longer_min: int = 0) -> int | None:
        """When a left out job would be ready beside the planned ones [min]; None where it does not fit."""
        board, insertion = self._board(longer_min)
        placement = insertion.find(board, _job(board, job))
        return None if placement is None else placement.end

    def ready_with_longer_shifts(self, job: str) -> tuple[int, int] | None:
        """By how much every shift must at least be longer, and when the job is ready then [min]."""
        least = 0
        for minutes in LONGER_MIN:
            ready = self.ready(job, minutes)
            if ready is not None:
                return self._least(job, least, minutes, ready)
            least = minutes
        return None

    def _least(self, job: str, too_short: int, enough: int, ready: int) -> tuple[int, int]:
        step = self.problem.grid_minutes
        while len(self.problem.jobs) <= FEW_JOBS and enough - too_short > step:
            middle = too_short + max(step, (enough - too_short) // 2 // step * step)
            found = self.ready(job, middle)
            if found is None:
                too_short = middle
            else:
                enough, ready = middle, found
        return enough, ready

    def ready_in_place_of(self, job: str) -> tuple[str, int] | None:
        """The planned job without which this one is ready soonest, and when that is [min]."""
        board, _ = self._board(0)
        wanted = _job(board, job)
        rivals = self._rivals(board, wanted)
        alike = [one.number for one in rivals if not wanted.sets or self._is_on(board, one, wanted.sets)]
        likely = alike[:MOST_GIVEN_UP]
        rest = [one.number for one in rivals if one.number not in likely]
        return self._soonest_without(wanted, likely) or self._soonest_without(wanted, rest)

    def _soonest_without(self, wanted: BayJob, rivals: list[int]) -> tuple[str, int] | None:
        board, insertion = self._board(0)
        found = []
        for number in rivals:
            before = board.placements[number]
            if before is None:
                continue
            board.remove(number)
            placement = insertion.find(board, wanted)
            board.place(before)
            if placement is not None:
                found.append((placement.end, board.bay.jobs[number].id))
        end, rival = min(found, default=(0, ""))
        return (rival, end) if rival else None

    def _is_on(self, board: Board, rival: BayJob, sets: tuple[int, ...]) -> bool:
        placement = board.placements[rival.number]
        return placement is not None and placement.set_pool in sets

    def _rivals(self, board: Board, wanted: BayJob) -> list[BayJob]:
        """Planned jobs, neither locked nor followed, the cheapest first."""
        rivals = [
            one
            for one in board.bay.jobs
            if board.placements[one.number] is not None
            and not one.must
            and not any(board.placements[later] is not None for later in one.before)
            and one.number not in wanted.after
        ]
        return sorted(rivals, key=lambda one: (one.cost_left_out, one.number))

    def _board(self, longer_min: int) -> tuple[Board, Insertion]:
        if longer_min not in self._boards:
            problem = longer_shifts(self.problem, longer_min) if longer_min else self.problem
            board = Board(bay_of(problem))
            locked_work_take(board)
            schedule_place(board, self.schedule)
            self._boards[longer_min] = (board, Insertion.on(board))
        return self._boards[longer_min]


def _job(board: Board, id_: str) -> BayJob:
    return next(job for job in board.bay.jobs if job.id == id_)
