"""Who can attend and what is hot, minute by minute, in one replay."""

from collections.abc import Iterable, Mapping
from itertools import zip_longest

from planner.domain.resources import BayRules


def at_least(timelines: Iterable[int], everywhere: int) -> list[int]:
    """For each count from 0: the minutes that lie in at least that many of `timelines`."""
    layers = [everywhere]
    for timeline in timelines:
        raised = [layer & timeline for layer in layers]
        layers = [one | other for one, other in zip_longest(layers, [0, *raised], fillvalue=0)]
    return layers


class WatchBook:
    """The tyres that are hot or under pressure, against the attendants who are in."""

    def __init__(self, rules: BayRules, watching: Mapping[str, int], everywhere: int) -> None:
        self._rules = rules
        self._watching = dict(watching)
        self._everywhere = everywhere
        self._attendants = at_least(watching.values(), everywhere)
        self._hot = [everywhere]

    def free(self) -> int:
        """The minutes in which one more tyre could be attended."""
        blocked = 0
        for tyres, hot in enumerate(self._hot):
            blocked |= hot & ~self._attended_by(self._needed(tyres + 1))
        return self._everywhere & ~blocked

    def spares(self, crew: tuple[str, ...]) -> int:
        """The minutes in which this crew's hands-on work leaves every hot tyre attended."""
        watchers = sum(member in self._watching for member in crew)
        if self._rules.attendant_may_work or not watchers:
            return self._everywhere
        held = 0
        for tyres, hot in enumerate(self._hot[1:], start=1):
            held |= hot & ~self._attended_by(self._needed(tyres) + watchers)
        return self._everywhere & ~held

    def attend(self, minutes: int) -> int:
        """Book one more hot tyre over `minutes`; the minutes among them that nobody could attend."""
        missed = minutes & ~self.free()
        raised = [layer & minutes for layer in self._hot]
        self._hot = [one | other for one, other in zip_longest(self._hot, [0, *raised], fillvalue=0)]
        return missed

    def work(self, crew: tuple[str, ...], minutes: int) -> None:
        """Book hands-on work, which keeps an attendant from the watch where the rules say so."""
        if self._rules.attendant_may_work or not any(member in self._watching for member in crew):
            return
        for member in crew:
            if member in self._watching:
                self._watching[member] &= ~minutes
        self._attendants = at_least(self._watching.values(), self._everywhere)

    def _needed(self, tyres: int) -> int:
        return -(-tyres // self._rules.cures_per_attendant)

    def _attended_by(self, count: int) -> int:
        return self._attendants[count] if count < len(self._attendants) else 0
