"""Who can attend and what is hot, minute by minute, in one replay."""

from collections.abc import Mapping, Sequence
from itertools import zip_longest

from planner.domain.resources import BayRules


def at_least(timelines: Sequence[int], everywhere: int, *, most: int | None = None) -> list[int]:
    """For each count from 0, up to `most`: the minutes that lie in at least that many of `timelines`."""
    layers = [everywhere] + [0] * (len(timelines) if most is None else most)
    for number, timeline in enumerate(timelines):
        for count in range(min(number + 1, len(layers) - 1), 0, -1):
            layers[count] |= layers[count - 1] & timeline
    return layers


class WatchBook:
    """The tyres that are hot or under pressure, against the attendants who are in."""

    def __init__(self, rules: BayRules, watching: Mapping[str, int], everywhere: int) -> None:
        self._rules = rules
        self._watching = dict(watching)
        self._everywhere = everywhere
        self._attendants = at_least(list(watching.values()), everywhere)
        self._hot = [everywhere]
        self._free: int | None = None

    def free(self) -> int:
        """The minutes in which one more tyre could be attended."""
        if self._free is None:
            blocked = 0
            for tyres, hot in enumerate(self._hot):
                blocked |= hot & ~_layer(self._attendants, self._needed(tyres + 1))
            self._free = self._everywhere & ~blocked
        return self._free

    def needs(self, crew: tuple[str, ...]) -> int:
        """The minutes in which hands-on work of this crew would leave a hot tyre alone."""
        if self._rules.attendant_may_work or self._watching.keys().isdisjoint(crew):
            return 0
        others = at_least([m for name, m in self._watching.items() if name not in crew], self._everywhere)
        held = 0
        for tyres, hot in enumerate(self._hot[1:], start=1):
            held |= hot & ~_layer(others, self._needed(tyres))
        return self._everywhere & held

    def attend(self, minutes: int) -> int:
        """Book one more hot tyre over `minutes`; the minutes among them that nobody could attend."""
        missed = minutes & ~self.free()
        raised = [layer & minutes for layer in self._hot]
        layers = (one | other for one, other in zip_longest(self._hot, [0, *raised], fillvalue=0))
        self._hot = [layer for layer in layers if layer]
        self._free = None
        return missed

    def work(self, crew: tuple[str, ...], minutes: int) -> None:
        """Book hands-on work, which keeps an attendant from the watch where the rules say so."""
        if self._rules.attendant_may_work or self._watching.keys().isdisjoint(crew):
            return
        for member in crew:
            if member in self._watching:
                self._watching[member] &= ~minutes
        self._attendants = at_least(list(self._watching.values()), self._everywhere)
        self._free = None

    def _needed(self, tyres: int) -> int:
        return -(-tyres // self._rules.cures_per_attendant)


def _layer(layers: list[int], count: int) -> int:
    """The minutes in at least `count` of what the layers count."""
    return layers[count] if count < len(layers) else 0
