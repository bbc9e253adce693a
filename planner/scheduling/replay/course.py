"""One replay: the plan's pieces in its own order, each at the first moment that its rules allow."""

from collections.abc import Iterable, Sequence

from planner.domain.bay_time import round_up
from planner.domain.problem import BayProblem
from planner.domain.work import StageKind
from planner.scheduling.replay.calendar import BayCalendar
from planner.scheduling.replay.hands_on import hands_on_span
from planner.scheduling.replay.heat_block import block_start, run_block
from planner.scheduling.replay.piece import Piece
from planner.scheduling.replay.state import ReplayState


class Course:
    """A replay under way.

    Nothing starts before its planned time. Where its own crew would keep a tyre waiting, another with the
    skill takes its place. A heat block is started only where its planned minutes fit into
    attended time, the supply and an open set and position; once hot it runs on, and the bags stay up until
    the strip crew is free. Locked work is a fact unless something keeps it from its time. `ends` holds the
    jobs done within the horizon [min after its start], `stuck` those that were not, and `unattended` the
    minutes that a hot tyre was alone [min].
    """

    def __init__(self, problem: BayProblem, calendar: BayCalendar, factors: Sequence[float]) -> None:
        self._state = ReplayState(problem, calendar, factors)
        self._base = calendar.base
        self._width = calendar.width
        self._turnarounds = {
            item.id: round_up(item.turnaround_minutes, problem.grid_minutes) for item in problem.heater_sets
        }
        self.ends: dict[str, int] = {}
        self.stuck: set[str] = set()
        self.unattended: dict[str, int] = {}

    def run(self, pieces: Iterable[Piece]) -> None:
        """Do the pieces in order; a job whose piece no longer fits is stuck, as is what follows it."""
        for piece in pieces:
            job = piece.job
            if job.id in self.stuck or not self.stuck.isdisjoint(job.after):
                self.stuck.add(job.id)
                continue
            end = self._block(piece) if piece.is_block else self._stage(piece)
            if end is None or end > self._width:
                self.stuck.add(job.id)
                continue
            self._state.job_ready[job.id] = end + piece.parts[-1].stage.min_wait_after
            if piece.ends_job:
                self.ends[job.id] = end + self._base

    def _stage(self, piece: Piece) -> int | None:
        part, state = piece.parts[0], self._state
        start, work = self._earliest(piece), state.drawn(part)
        if part.stage.kind is not StageKind.HANDS_ON:
            end = start + work
        elif self._is_fact(piece, start):
            end = start + max(work, -piece.start)
            state.work(part.planned.technicians, start, end)
        elif found := hands_on_span(state, part, start, piece.start - self._base):
            start, end, crew = found
            state.work(crew, start, end)
        else:
            return None
        if state.is_watched(part):
            state.watch.attend(((1 << (end - start)) - 1) << start)
        state.leave(part, end)
        return end

    def _block(self, piece: Piece) -> int | None:
        state, heater_set = self._state, piece.parts[0].planned.heater_set or ""
        earliest = max(self._earliest(piece), state.set_ready[heater_set])
        start = earliest if self._is_fact(piece, earliest) else block_start(state, piece, earliest)
        if start is None:
            return None
        end, alone = run_block(state, piece, start)
        if alone:
            self.unattended[piece.job.id] = alone
        state.set_ready[heater_set] = end + self._turnarounds.get(heater_set, 0)
        return end

    def _is_fact(self, piece: Piece, earliest: int) -> bool:
        """Whether it stands as locked: nothing keeps it from its planned start, and no rule is asked."""
        return earliest == piece.start - self._base and all(part.locked for part in piece.parts)

    def _earliest(self, piece: Piece) -> int:
        state, part = self._state, piece.parts[0]
        if piece.start < 0:
            return piece.start - self._base
        others = (self.ends[other] - self._base for other in piece.job.after if other in self.ends)
        spot = state.spot_ready[part.planned.position] if part.first_of_stay and part.planned.position else 0
        return max(piece.start - self._base, state.job_ready[piece.job.id], spot, *others, 0)
