"""The lines of the board: one for each pool, for the supply and for the watch, with their capacity."""

from dataclasses import dataclass

from planner.scheduling.dispatch.bay import Bay
from planner.scheduling.dispatch.capacity import Planes, given, level
from planner.scheduling.dispatch.timeline import slots_between


@dataclass(frozen=True, slots=True)
class Lines:
    """The numbers of the lines: places from 0, sets from `first_set`; `watch` by technician.

    Where the watch may be handed over, only the attendants' capacity together counts (whoever is there takes
    over), so all technicians share one line; where it may not, each has their own.
    """

    first_set: int
    power: int
    channels: int
    watch: tuple[int, ...]

    @classmethod
    def of(cls, bay: Bay) -> "Lines":
        """The lines of `bay`."""
        first_set = len(bay.places)
        power = first_set + len(bay.sets)
        first_watch = power + 2
        own = bay.named_watch
        watch = tuple(first_watch + (number if own else 0) for number in range(len(bay.crew)))
        return cls(first_set=first_set, power=power, channels=power + 1, watch=watch)


def untouched(bay: Bay) -> list[Planes]:
    """The capacity of each line before anything is planned."""
    always = slots_between(0, bay.grid.width)
    planes = [level(len(pool.members), pool.open) for pool in bay.places]
    planes += [level(len(pool.members), always) for pool in bay.sets]
    planes += [level(limit or 0, always) for limit in (bay.supply.power, bay.supply.channels)]
    cures = bay.problem.rules.cures_per_attendant
    own = [level(cures, calendar.attending) for calendar in bay.crew]
    return planes + (own if bay.named_watch else [_together(own, cures)])


def _together(own: list[Planes], cures: int) -> Planes:
    """The capacity of all attendants as one."""
    most = cures * len(own)
    total: Planes = (0,) * max(1, most.bit_length())
    for planes in own:
        attending = 0
        for plane in planes:
            attending |= plane
        total = given(total, attending, cures) if most > 1 else (total[0] | attending,)
    return total
