"""A cure log: elapsed minutes, both pads, pressure, and what was odd about it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure_log.finding import Finding
from planner.engineering.heat.tridiagonal import FloatArray

LEAST_READINGS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class CureLog:
    """Readings in the order of the log; a reading that is missing is not a number.

    Args:
        time_min: elapsed, never going back [min].
        inside_c: inside pad [°C].
        outside_c: outside pad [°C].
        pressure_kpa: the lowest bag; empty where none was logged [kPa].
        findings: what was odd while reading.
        began: the first time by the logger's own clock, as it is written; empty where it counts itself.

    """

    time_min: FloatArray
    inside_c: FloatArray
    outside_c: FloatArray
    pressure_kpa: FloatArray
    findings: tuple[Finding, ...] = ()
    began: str = ""

    def __post_init__(self) -> None:
        if len(self.time_min) < LEAST_READINGS:
            raise InvalidValueError(
                _("a cure log needs at least {least_readings} readings", least_readings=LEAST_READINGS)
            )
        if not len(self.time_min) == len(self.inside_c) == len(self.outside_c):
            raise InvalidValueError(_("every reading of a cure log needs a time and both pads"))
        if len(self.pressure_kpa) not in (0, len(self.time_min)):
            raise InvalidValueError(_("pressure must be logged with every reading or not at all"))
        if (np.diff(self.time_min) < 0).any():
            raise InvalidValueError(_("elapsed minutes of a cure log must not go back"))

    @property
    def seen(self) -> NDArray[np.intp]:
        """The readings (rows) that have both pads."""
        return np.flatnonzero(np.isfinite(self.inside_c) & np.isfinite(self.outside_c))

    def silences(self, longest_min: float) -> list[tuple[int, int]]:
        """The readings (rows) before and after each stretch without both pads longer than so many minutes."""
        seen = self.seen
        ends = np.flatnonzero(np.diff(self.time_min[seen]) > longest_min)
        return [(int(seen[place]), int(seen[place + 1])) for place in ends]
