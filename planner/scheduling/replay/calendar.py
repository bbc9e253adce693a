"""The bay's calendar to the minute, as a replay needs it: crews' windows and who can attend."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import reduce
from itertools import combinations, product
from operator import or_

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift, Technician
from planner.scheduling.dispatch.timeline import slots_between, starts_of_runs, stretches


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewWindow:
    """A stretch in which a whole crew is on shift, one shift each, with the breaks of any of them [min]."""

    start: int
    end: int
    pauses: tuple[tuple[int, int], ...]

    def end_of(self, start: int, work: int, *, pausable: bool) -> int | None:
        """When `work` begun at `start` ends, or None where it may not meet a pause and does."""
        end = start + work
        for pause_start, pause_end in self.pauses:
            if pause_end <= start or end <= pause_start:
                continue
            if not pausable or pause_start <= start:
                return None
            end += pause_end - pause_start
        return end


class BayCalendar:
    """Masks and windows in minutes after `base`, the earliest time in the plan (at or before 0)."""

    def __init__(self, problem: BayProblem, base: int) -> None:
        self.base = base
        self.width = problem.horizon_end - base
        self.all = slots_between(0, self.width)
        self._technicians = {technician.id: technician for technician in problem.technicians}
        self._windows: dict[tuple[str, ...], tuple[CrewWindow, ...]] = {}
        self._hours: dict[tuple[tuple[str, ...], bool], int] = {}
        self._able: dict[str, tuple[str, ...]] = {}
        self._open: dict[tuple[str | None, str | None, int], int] = {}
        self._crews: dict[tuple[str, int], tuple[tuple[str, ...], ...]] = {}
        self.set_open = {item.id: self.all & ~self._mask(item.closed) for item in problem.heater_sets}
        self.spot_open = {item.id: self.all & ~self._mask(item.closed) for item in problem.positions}
        self.supply_on = self.all & ~self._mask(problem.power_off)
        self.watching = {
            technician.id: self._watching(technician, through=problem.rules.watch_through_breaks)
            for technician in problem.technicians
            if problem.rules.watch_skill in technician.skills
        }

    def open_starts(self, heater_set: str | None, position: str | None, length: int) -> int:
        """The minutes from which no closure of the set or of the position meets so long a stay."""
        key = heater_set, position, length
        if key not in self._open:
            free = self.all
            free &= self.set_open[heater_set] if heater_set else -1
            free &= self.spot_open[position] if position else -1
            self._open[key] = starts_of_runs(free, length)
        return self._open[key]

    def windows(self, crew: tuple[str, ...]) -> tuple[CrewWindow, ...]:
        """When the whole crew is in, in order of time."""
        if crew not in self._windows:
            rosters = [self._technicians[member].shifts for member in crew]
            found = (self._window(shifts) for shifts in product(*rosters))
            self._windows[crew] = tuple(sorted((w for w in found if w), key=lambda window: window.start))
        return self._windows[crew]

    def shift_end(self, crew: tuple[str, ...], moment: int) -> int | None:
        """The end of the crew's shift in which a moment lies, if it lies in one [min]."""
        return next((each.end for each in self.windows(crew) if each.start <= moment < each.end), None)

    def able(self, skill: str) -> tuple[str, ...]:
        """Every technician with a skill."""
        if skill not in self._able:
            able = (id_ for id_, technician in self._technicians.items() if skill in technician.skills)
            self._able[skill] = tuple(able)
        return self._able[skill]

    def crews(self, skill: str, count: int) -> tuple[tuple[str, ...], ...]:
        """Every crew of so many technicians with a skill."""
        if (skill, count) not in self._crews:
            self._crews[skill, count] = tuple(combinations(self.able(skill), count))
        return self._crews[skill, count]

    def crew_hours(self, crew: tuple[str, ...], *, breaks: bool) -> int:
        """The minutes in which the whole crew is on shift, those of its breaks included or not."""
        if (crew, breaks) not in self._hours:
            hours = 0
            for window in self.windows(crew):
                pauses = () if breaks else window.pauses
                hours |= slots_between(window.start, window.end) & ~_slots(pauses)
            self._hours[crew, breaks] = hours
        return self._hours[crew, breaks]

    def _window(self, shifts: tuple[Shift, ...]) -> CrewWindow | None:
        start = max(shift.span.start for shift in shifts) - self.base
        end = min(shift.span.end for shift in shifts) - self.base
        if end <= max(start, 0):
            return None
        pauses = self._mask(pause for shift in shifts for pause in shift.breaks)
        inside = pauses & slots_between(max(start, 0), end)
        return CrewWindow(start=max(start, 0), end=end, pauses=tuple(stretches(inside)))

    def _watching(self, technician: Technician, *, through: bool) -> int:
        present = self._mask(shift.span for shift in technician.shifts)
        pauses = self._mask(pause for shift in technician.shifts for pause in shift.breaks)
        return present if through else present & ~pauses

    def _mask(self, spans: Iterable[Span]) -> int:
        return _slots((max(span.start - self.base, 0), span.end - self.base) for span in spans)


def _slots(spans: Iterable[tuple[int, int]]) -> int:
    return reduce(or_, (slots_between(start, end) for start, end in spans), 0)
