"""The timed minutes a cure needs, counting what heat-up and cool-down add."""

from dataclasses import dataclass

import numpy as np

from planner.engineering.cure.cooled import CooledDown, cool
from planner.engineering.cure.heated import Heated, Snapshot
from planner.engineering.heat.tridiagonal import FloatArray

REFINEMENTS = 12
"""At most so many secant steps after the first bracket; two or three are common [-]."""

SECANT_ERROR_MIN = 0.05
"""A secant that moves less is near enough; taken off, so that its error costs no whole minute [min]."""

TOLERANCE_MIN = 1e-6
"""A time past a whole minute by less than this is that minute [min]."""

TOLERANCE_LACK = 1e-7
"""Lacking less than this share of the target counts as cured, in logarithms [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CureEnd:
    """Where a batch stands when the pads go off and when it is released.

    Attributes:
        off_min: pads off, after the heat-up starts [min].
        at_off: state when the pads go off.
        cooled: what the cool-down added.

    """

    off_min: FloatArray
    at_off: Snapshot
    cooled: CooledDown

    @property
    def equivalent_min(self) -> FloatArray:
        """Equivalent minutes at every point until release [min]."""
        return self.at_off.equivalent_min + self.cooled.equivalent_min


def end_at(heated: Heated, off_min: FloatArray) -> CureEnd:
    """Turn the pads off at a time and cool down [min]."""
    at_off = heated.snapshot(off_min)
    return CureEnd(off_min=off_min, at_off=at_off, cooled=cool(heated, at_off.cells_c))


def cure_end(heated: Heated) -> CureEnd:
    """The least whole timed minutes after which the slowest point of each repair is cured.

    By heat alone is the longest that can be needed; taking off what the cool-down after that adds gives too
    short a time. Regula falsi (Illinois) between the two, then up to the whole minute, which is checked.
    """
    need = _Need(heated)
    bracket = need.bracket()
    trial = bracket.secant()
    for _ in range(REFINEMENTS):
        bracket = need.closer(bracket, trial)
        last, trial = trial, bracket.secant()
        if (np.abs(trial - last) < SECANT_ERROR_MIN).all():
            break
    end = end_at(heated, need.whole(trial - SECANT_ERROR_MIN))
    while (short := need.lacking(end) > TOLERANCE_LACK).any():
        end = end_at(heated, end.off_min + short)
    return end


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bracket:
    """Ends between which each repair's answer lies [min], with what the slowest point lacks there [-]."""

    low_min: FloatArray
    low_lacks: FloatArray
    high_min: FloatArray
    high_lacks: FloatArray

    def secant(self) -> FloatArray:
        """Where a straight line between the ends lacks nothing [min]."""
        fall = self.low_lacks - self.high_lacks
        share = np.where(fall > 0, self.low_lacks / np.where(fall > 0, fall, 1.0), 0.0)
        return self.low_min + np.clip(share, 0.0, 1.0) * (self.high_min - self.low_min)


class _Need:
    """What the slowest points still lack at a trial end."""

    def __init__(self, heated: Heated) -> None:
        self.heated = heated
        self.target = np.array([[case.target_min] for case in heated.cases])
        self.timer = np.array([case.heating.timer_min for case in heated.cases])
        self.least = np.array([case.heating.hold_min for case in heated.cases])

    def lacking(self, end: CureEnd) -> FloatArray:
        """Logarithm of target over what the slowest point has: nearly straight in time [-]."""
        slowest = np.maximum(end.equivalent_min.min(axis=1), 1e-9)
        return np.asarray(np.log(self.target[:, 0] / slowest), dtype=np.float64)

    def bracket(self) -> _Bracket:
        """By heat alone, and that less what its cool-down adds."""
        high = np.maximum(self.least, self.heated.enough_min(self.target))
        last = end_at(self.heated, high)
        low = np.maximum(self.least, self.heated.enough_min(self.target - last.cooled.equivalent_min))
        first = end_at(self.heated, low)
        return _Bracket(
            low_min=low,
            low_lacks=np.maximum(0.0, self.lacking(first)),
            high_min=high,
            high_lacks=self.lacking(last),
        )

    def closer(self, old: _Bracket, trial: FloatArray) -> _Bracket:
        """The bracket cut at a trial; the end that stays gives half its weight away."""
        lacks = self.lacking(end_at(self.heated, trial))
        short = lacks > 0
        return _Bracket(
            low_min=np.where(short, trial, old.low_min),
            low_lacks=np.where(short, lacks, old.low_lacks / 2),
            high_min=np.where(short, old.high_min, trial),
            high_lacks=np.where(short, old.high_lacks / 2, lacks),
        )

    def whole(self, off_min: FloatArray) -> FloatArray:
        """The first whole timed minute at or after a time, and not before both pads hold [min]."""
        timed: FloatArray = np.ceil(np.maximum(off_min, self.least) - self.timer - TOLERANCE_MIN)
        return np.asarray(self.timer + timed, dtype=np.float64)
