"""The moments of a cure as its log shows them: timer's start, pads off, pressure let go."""

from dataclasses import dataclass

import numpy as np
from scipy.ndimage import median_filter

from planner.engineering.cure_log.clock import usual_step_min
from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.oddities import calm_pads
from planner.engineering.cure_log.plan import CurePlan
from planner.engineering.heat.tridiagonal import FloatArray

READ_C = 0.5
"""How finely a pad is read: that much below the start still starts the timer [°C]."""


HALF_WINDOW_MIN = 0.5
"""How far to either side a reading is calmed by its neighbours [min]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CureSpan:
    """Places in the log (rows) of the cure's moments; None where the log does not show them.

    Args:
        inside_c: the inside pad, spikes and missing readings bridged in straight lines [°C].
        outside_c: the outside pad, likewise [°C].
        timer: both pads at the start temperature.
        off: the last reading with both there.
        released: bags let go after that.

    """

    inside_c: FloatArray
    outside_c: FloatArray
    timer: int | None
    off: int | None
    released: int | None

    @property
    def cooler_c(self) -> FloatArray:
        """The cooler pad at each reading [°C]."""
        return np.minimum(self.inside_c, self.outside_c)

    @property
    def warmer_c(self) -> FloatArray:
        """The warmer pad at each reading [°C]."""
        return np.maximum(self.inside_c, self.outside_c)

    @property
    def timed(self) -> slice:
        """Rows from the timer's start until pads off; empty where there is none."""
        return slice(0, 0) if self.timer is None or self.off is None else slice(self.timer, self.off + 1)


def cure_span(log: CureLog, plan: CurePlan) -> CureSpan:
    """Find the moments in the readings, without spikes."""
    inside, outside = bridged_pads(log)
    hot = np.flatnonzero(np.minimum(inside, outside) >= plan.start_c - READ_C)
    timer, off = (int(hot[0]), int(hot[-1])) if len(hot) else (None, None)
    return CureSpan(
        inside_c=inside,
        outside_c=outside,
        timer=timer,
        off=off,
        released=_released(log, plan, off),
    )


def bridged_pads(log: CureLog) -> tuple[FloatArray, FloatArray]:
    """Both pads for calculation: spikes and missing readings bridged in straight lines [°C].

    Of readings closer than that, each is the middle one of half a minute to either side.
    """
    inside, outside = (_bridged(log.time_min, pad) for pad in calm_pads(log))
    beside = int(HALF_WINDOW_MIN / usual_step_min(np.diff(log.time_min)))
    return _calmed(inside, beside), _calmed(outside, beside)


def _calmed(pad_c: FloatArray, beside: int) -> FloatArray:
    if not beside:
        return pad_c
    return np.asarray(median_filter(pad_c, size=2 * beside + 1, mode="nearest"), dtype=np.float64)


def _bridged(time_min: FloatArray, pad_c: FloatArray) -> FloatArray:
    known = np.isfinite(pad_c)
    if not known.any():
        return pad_c
    return np.interp(time_min, time_min[known], pad_c[known])


def _released(log: CureLog, plan: CurePlan, off: int | None) -> int | None:
    """The first reading after pads off with less than half the planned pressure, for good."""
    if off is None or not len(log.pressure_kpa):
        return None
    held = np.flatnonzero(log.pressure_kpa[off:] >= plan.pressure_kpa / 2)
    first = off + (int(held[-1]) + 1 if len(held) else 0)
    return first if first < len(log.time_min) else None
