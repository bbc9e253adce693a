"""The slots of a bay problem: grid steps from the earliest locked work to the horizon's end."""

from dataclasses import dataclass

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.scheduling.dispatch.timeline import slots_between


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Slots of `minutes` each. Slot `first` starts at the horizon's start; `end` is the first slot not in it.

    Slots before `first` hold locked work that began earlier; those from `end` to `width` hold the turnarounds
    that run past the horizon.
    """

    minutes: int
    first: int
    end: int
    width: int

    @property
    def horizon(self) -> int:
        """The timeline of the horizon."""
        return slots_between(self.first, self.end)

    def length(self, minutes: int) -> int:
        """Slots that a work or a least wait of `minutes` [min] takes, rounded up."""
        return -(-minutes // self.minutes)

    def slot_before(self, minute: int) -> int:
        """The last slot that starts at or before `minute` [min after the horizon's start]."""
        return minute // self.minutes + self.first

    def slot_after(self, minute: int) -> int:
        """The first slot that starts at or after `minute` [min after the horizon's start]."""
        return -(-minute // self.minutes) + self.first

    def minute(self, slot: int) -> int:
        """When `slot` starts [min after the horizon's start]."""
        return (slot - self.first) * self.minutes

    def inside(self, span: Span) -> int:
        """The slots of the horizon that lie wholly in `span`, as a shift shrinks."""
        return slots_between(
            max(self.slot_after(span.start), self.first), min(self.slot_before(span.end), self.end)
        )

    def around(self, span: Span) -> int:
        """All slots that share a minute with `span`, as a break or a closure grows."""
        return slots_between(max(self.slot_before(span.start), 0), min(self.slot_after(span.end), self.width))


def grid_of(problem: BayProblem) -> Grid:
    """The grid that holds all of `problem`."""
    step = problem.grid_minutes
    earliest = min((stage.start for job in problem.locked for stage in job.stages), default=0)
    latest = max((stage.end for job in problem.locked for stage in job.stages), default=0)
    turnaround = max((-(-one.turnaround_minutes // step) for one in problem.heater_sets), default=0)
    first = max(0, -(earliest // step))
    end = first + problem.horizon_end // step
    width = max(end, first - (-latest // step)) + turnaround + 1
    return Grid(minutes=step, first=first, end=end, width=width)
