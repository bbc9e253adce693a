"""Where one replay stands: who is busy, what is free from when, what is hot."""

from collections import defaultdict
from collections.abc import Sequence

from planner.domain.problem import BayProblem
from planner.domain.work import StageKind
from planner.scheduling.dispatch.timeline import slots_between
from planner.scheduling.replay.calendar import BayCalendar
from planner.scheduling.replay.piece import Part
from planner.scheduling.replay.supply import SupplyBook
from planner.scheduling.replay.watch import WatchBook


class ReplayState:
    """The books of one replay, in minutes after the calendar's base."""

    def __init__(self, problem: BayProblem, calendar: BayCalendar, factors: Sequence[float]) -> None:
        self.calendar = calendar
        self.sets = {item.id: item for item in problem.heater_sets}
        self.watch = WatchBook(problem.rules, calendar.watching, calendar.all)
        self.supply = SupplyBook(problem.rules, calendar.supply_on)
        self._watched = {StageKind.ENERGISED} | (
            {StageKind.PRESSURISED} if problem.rules.watch_cool_down else set()
        )
        self._factors = factors
        self._busy: dict[str, int] = defaultdict(int)
        self.job_ready: dict[str, int] = defaultdict(int)
        self.set_ready: dict[str, int] = defaultdict(int)
        self.spot_ready: dict[str, int] = defaultdict(int)

    def drawn(self, part: Part) -> int:
        """The minutes of work that this replay drew for a stage: no plan's grid holds what happens."""
        return round(part.asked * self._factors[part.place])

    def is_watched(self, part: Part) -> bool:
        """Whether the stage may not be left alone."""
        return part.stage.kind in self._watched

    def able(self, part: Part) -> tuple[str, ...]:
        """Who could work on a stage; nobody but its own crew on work in hand."""
        return () if part.locked or part.stage.skill is None else self.calendar.able(part.stage.skill)

    def stand_ins(self, part: Part) -> tuple[tuple[str, ...], ...]:
        """The crews that could do a stage in the place of its own; none for work in hand."""
        if part.locked or part.stage.skill is None:
            return ()
        return self.calendar.crews(part.stage.skill, part.stage.crew)

    def taken(self, crew: tuple[str, ...]) -> int:
        """The minutes in which any of the crew is at other hands-on work."""
        busy = 0
        for member in crew:
            busy |= self._busy[member]
        return busy

    def work(self, crew: tuple[str, ...], start: int, end: int) -> None:
        """Book hands-on work."""
        minutes = slots_between(start, end)
        for member in crew:
            self._busy[member] |= minutes
        self.watch.work(crew, minutes)

    def leave(self, part: Part, end: int) -> None:
        """Book a stage's end: its stay is over where it is the last of it."""
        if part.last_of_stay and part.planned.position:
            self.spot_ready[part.planned.position] = end
