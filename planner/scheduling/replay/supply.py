"""What is energised, minute by minute, in one replay."""

from itertools import pairwise

from planner.domain.resources import BayRules, HeaterSet
from planner.scheduling.dispatch.timeline import slots_between


class SupplyBook:
    """The live heater sets against the supply's limits and isolations."""

    def __init__(self, rules: BayRules, supply_on: int) -> None:
        self._rules = rules
        self._supply_on = supply_on
        self._limited = rules.power_limit_kw is not None or rules.channel_limit is not None
        self._live: list[tuple[int, int, float, int]] = []

    def free(self, heater_set: HeaterSet, earliest: int) -> int:
        """The minutes from `earliest` in which this set could be energised too."""
        if not self._limited:
            return self._supply_on
        live = [row for row in self._live if row[1] > earliest]
        edges = sorted({row[0] for row in live} | {row[1] for row in live})
        free = self._supply_on
        for start, end in pairwise(edges):
            if self._over(heater_set, [row for row in live if row[0] <= start < row[1]]):
                free &= ~slots_between(start, end)
        return free

    def energise(self, heater_set: HeaterSet, start: int, end: int) -> None:
        """Book one set's energised minutes."""
        if end > start:
            self._live.append((start, end, heater_set.power_kw, heater_set.channels))

    def _over(self, heater_set: HeaterSet, live: list[tuple[int, int, float, int]]) -> bool:
        power, channels = self._rules.power_limit_kw, self._rules.channel_limit
        power_kw = heater_set.power_kw + sum(row[2] for row in live)
        outlets = heater_set.channels + sum(row[3] for row in live)
        over_power = power is not None and power_kw > power + 1e-9
        return over_power or (channels is not None and outlets > channels)
