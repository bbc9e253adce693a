"""One replay: the plan's pieces, each at the first moment that its rules allow."""

from collections import defaultdict
from collections.abc import Sequence

from planner.domain.bay_time import round_up
from planner.domain.problem import BayProblem
from planner.domain.work import StageKind
from planner.scheduling.dispatch.timeline import slots_between
from planner.scheduling.replay.agenda import Agenda
from planner.scheduling.replay.calendar import BayCalendar
from planner.scheduling.replay.hands_on import Stint, stint_find
from planner.scheduling.replay.heat_block import block_start, run_block
from planner.scheduling.replay.piece import Piece
from planner.scheduling.replay.state import ReplayState


class Course:
    """A replay under way.

    What may begin first begins first; so who kept to the plan keeps its time, and a tyre that lost its own
    takes the next gap. Nothing starts before its planned time, but for whole grid steps by which the tyre
    itself was done sooner. Where its own crew would keep a tyre waiting, another with the skill takes its
    place. A heat block is started only where its planned minutes fit into attended time, the supply and an
    open set and position; once hot it runs on, and the bags stay up until the strip crew is free. Locked
    work is a fact unless something keeps it from its time.

    `ends` holds the jobs done [min after the horizon's start], `held` the first stage of a job that began
    after the shift in which it was planned, or never, and `unattended` the minutes that a hot tyre was
    alone [min].
    """

    def __init__(self, problem: BayProblem, calendar: BayCalendar, factors: Sequence[float]) -> None:
        self._state = ReplayState(problem, calendar, factors)
        self._calendar, self._base = calendar, calendar.base
        self._width = calendar.width
        self._grid_minutes = problem.grid_minutes
        self._turnarounds = {
            item.id: round_up(item.turnaround_minutes, problem.grid_minutes) for item in problem.heater_sets
        }
        self._sooner: dict[str, int] = defaultdict(int)
        self.ends: dict[str, int] = {}
        self.held: dict[str, str] = {}
        self.unattended: dict[str, int] = {}

    def run(self, firsts: Sequence[Piece]) -> None:
        """Do the pieces as their moments come; a tyre of which one no longer fits goes no further."""
        agenda = Agenda(firsts, self._base)
        while (row := agenda.take()) is not None:
            moment, piece = row
            if agenda.must_wait(piece):
                continue
            found = self._find(piece)
            if found is not None and found.start > moment and not agenda.is_quiet_until(found.start):
                agenda.put(piece, found.start)
                continue
            self._note(piece, found)
            if found is None or (end := self._do(piece, found)) is None:
                agenda.give_up(piece, moment)
            else:
                agenda.over(piece, end, self._soonest(piece.following) if piece.following else end)

    def _find(self, piece: Piece) -> Stint | None:
        """The first moment at which the piece may begin; None where it no longer fits these days."""
        part, state, earliest = piece.parts[0], self._state, self._soonest(piece)
        if piece.is_block:
            earliest = max(earliest, state.set_ready[part.planned.heater_set or ""])
            start = earliest if self._is_fact(piece, earliest) else block_start(state, piece, earliest)
            return None if start is None else Stint(start=start, end=start)
        work = state.drawn(part)
        if part.stage.kind is not StageKind.HANDS_ON:
            return Stint(start=earliest, end=earliest + work)
        if self._is_fact(piece, earliest):
            end = earliest + max(work, -piece.start)
            return Stint(start=earliest, end=end, crew=part.planned.technicians)
        return stint_find(state, part, earliest, piece.start - self._base)

    def _do(self, piece: Piece, found: Stint) -> int | None:
        """Do it: its end, or None where these days are over before."""
        end = self._heat(piece, found.start) if piece.is_block else self._stage(piece, found)
        if end > self._width and not piece.is_rest:
            return None
        self._state.job_ready[piece.job.id] = end + piece.parts[-1].stage.min_wait_after
        self._sooner[piece.job.id] = max(0, piece.end - round_up(end + self._base, self._grid_minutes))
        if piece.following is None:
            self.ends[piece.job.id] = end + self._base
        return end

    def _stage(self, piece: Piece, found: Stint) -> int:
        part, state = piece.parts[0], self._state
        state.work(found.crew, found.start, found.end)
        if state.is_watched(part):
            state.watch.attend(slots_between(found.start, found.end))
        state.leave(part, found.end)
        return found.end

    def _heat(self, piece: Piece, start: int) -> int:
        state, heater_set = self._state, piece.parts[0].planned.heater_set or ""
        end, alone = run_block(state, piece, start)
        if alone:
            self.unattended[piece.job.id] = alone
        state.set_ready[heater_set] = end + self._turnarounds.get(heater_set, 0)
        return end

    def _note(self, piece: Piece, found: Stint | None) -> None:
        """Note the first of the job's pieces that did not begin in the shift in which it was planned."""
        if piece.job.id in self.held or not piece.crew:
            return
        shift_end = self._calendar.shift_end(piece.crew, piece.start - self._base)
        if found is None or (shift_end is not None and found.start >= shift_end):
            self.held[piece.job.id] = piece.parts[0].stage.name

    def _is_fact(self, piece: Piece, earliest: int) -> bool:
        """Whether it stands as locked: nothing keeps it from its planned start, and no rule is asked."""
        return earliest == piece.start - self._base and all(part.locked for part in piece.parts)

    def _soonest(self, piece: Piece) -> int:
        """When it may begin, crews, supply and heater set aside."""
        state, planned = self._state, piece.start - self._base
        if piece.start < 0:
            return planned
        others = [self.ends[other] - self._base for other in piece.job.after if other in self.ends]
        spot = state.spot_ready[piece.takes] if piece.takes is not None else 0
        return max(planned - self._sooner[piece.job.id], state.job_ready[piece.job.id], spot, *others, 0)
