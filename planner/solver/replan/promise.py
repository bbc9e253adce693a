"""What was published, on the board of the bay as it is now, and what moving away from it costs."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.plan import PlannedJob, Schedule
from planner.scheduling.dispatch.bay import Bay, BayJob
from planner.scheduling.dispatch.board import Placement
from planner.scheduling.dispatch.claims import Stand
from planner.scheduling.dispatch.restore import stands_of

GIVEN_UP_MIN = 240
"""What leaving out a job that was promised counts, as minutes of one stage moved."""
OTHER_RESOURCE_MIN = 15
"""What another technician, position or heater set counts, as minutes of one stage moved."""

Home = tuple[Stand, ...]
"""How the pieces of one job stood in the published plan."""


@dataclass(frozen=True, slots=True)
class Promise:
    """The published places by job number; each minute moved costs `stability` hundredths of a late minute."""

    bay: Bay
    homes: Mapping[int, Home]
    stability: int

    @classmethod
    def of(cls, bay: Bay, published: Schedule, stability: int) -> "Promise":
        """The places of all jobs that are published whole; a watch that may not pass on keeps its name."""
        planned = {job.id: job for job in published.jobs}
        attendants = {job: watch.technician for watch in published.watch for job in watch.jobs}
        homes = {
            job.number: tuple(stands_of(bay, job, planned[job.id], attendants.get(job.id)))
            for job in bay.jobs
            if job.id in planned
        }
        return cls(bay, homes, stability)

    def cost(self, job: int, placement: Placement | None) -> float:
        """What a job's move costs [priority-weighted min late]; nothing for one that was not published."""
        home = self.homes.get(job)
        return 0.0 if home is None else self.stability / 100 * moved_min(self.bay, home, placement)


def moved_min(bay: Bay, home: Home, placement: Placement | None) -> int:
    """Minutes that stages start away from `home`, other resources counted as minutes too [min]."""
    if placement is None:
        return GIVEN_UP_MIN
    slots = others = 0
    for piece, was, now in zip(bay.jobs[placement.job].pieces, home, placement.pieces, strict=True):
        if piece.locked_start is not None:
            continue
        slots += len(piece.stages) * abs(now.start - was.start)
        others += was.held[0] != now.place
        others += sum(len(set(one) - set(other)) for one, other in zip(now.crews, was.crews, strict=True))
    others += next((was.held[1] for was in home if was.held[1] is not None), None) != placement.set_pool
    return slots * bay.grid.minutes + OTHER_RESOURCE_MIN * others


def at_home(bay: Bay, home: Home, placement: Placement | None) -> bool:
    """Whether a job stands where it was published, with the same people and pools."""
    return placement is not None and moved_min(bay, home, placement) == 0


def same_times(job: BayJob, home: Home, placement: Placement | None) -> bool:
    """Whether a job stands at its published times, whoever and whatever serves it."""
    return placement is not None and all(
        piece.locked_start is not None or (was.start, was.length) == (now.start, now.length)
        for piece, was, now in zip(job.pieces, home, placement.pieces, strict=True)
    )


def by_id(schedule: Schedule) -> dict[str, PlannedJob]:
    """The jobs of a schedule by id."""
    return {job.id: job for job in schedule.jobs}
