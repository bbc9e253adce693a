"""When a technician is in the bay, on the grid and on the safe side."""

from dataclasses import dataclass

from planner.domain.bay_time import Span
from planner.domain.resources import Technician
from planner.scheduling.verify.stretches import Stretches, merged, missing


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty:
    """One shift shrunk inward to the grid, its breaks grown outward."""

    span: Span
    breaks: Stretches


@dataclass(frozen=True, slots=True, kw_only=True)
class Roster:
    """A technician's skills and duties."""

    skills: frozenset[str]
    duties: tuple[Duty, ...]

    def duty_over(self, span: Span) -> Duty | None:
        """The one shift that holds a whole span."""
        return next((duty for duty in self.duties if duty.span.holds(span)), None)

    def present(self) -> Stretches:
        """All time on shift."""
        return merged(duty.span for duty in self.duties)

    def at_work(self) -> Stretches:
        """All time on shift and off break."""
        return merged(span for duty in self.duties for span in missing((duty.span,), duty.breaks))


def roster_of(technician: Technician, grid_minutes: int) -> Roster:
    """A technician's roster on the grid; a shift shorter than the grid leaves nothing."""
    duties = []
    for shift in technician.shifts:
        span = shift.span.inward(grid_minutes)
        if span is not None:
            breaks = merged(pause.outward(grid_minutes) for pause in shift.breaks)
            duties.append(Duty(span=span, breaks=breaks))
    return Roster(skills=technician.skills, duties=tuple(duties))
