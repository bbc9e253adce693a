"""What a cure should have been: the bands its log is judged against."""

from dataclasses import dataclass

from planner.domain.cure_limits import ReleasePlace
from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure.case import PAD, CureCase
from planner.engineering.limits import Limits

PRESSURE = Limits(0.0, 1000.0, "kPa")
MINUTES = Limits(0.0, 2880.0, "min")
SLACK = Limits(0.0, 100.0, "°C")


@dataclass(frozen=True, slots=True, kw_only=True)
class CurePlan:
    """The planned cure. Defaults are common practice.

    Args:
        timed_min: from the timer's start [min].
        preheat_low_c: both pads at least this when the log starts [°C].
        preheat_high_c: both pads at most this when the log starts [°C].
        start_c: the timer starts when both pads are here [°C].
        inside_hold_c: where the inside pad settles [°C].
        outside_hold_c: where the outside pad settles [°C].
        hold_slack_c: how far below its hold a pad may settle [°C].
        overshoot_c: how far a pad may pass its hold [°C].
        together_c: how far the pads may lie apart while timed [°C].
        pressure_kpa: of the bags, 30 psi [kPa].
        pressure_slack_kpa: how far it may fall short or go over [kPa].
        release_c: pressure is held until the repair is below this [°C].
        release_place: where that is measured; at a face a pad tells it, inside the model does.
        gap_min: a longer stretch without readings is a gap [min].
        case: the repair, to tell the cure at its slowest point.

    """

    timed_min: int
    preheat_low_c: float = 50.0
    preheat_high_c: float = 70.0
    start_c: float = 120.0
    inside_hold_c: float = 140.0
    outside_hold_c: float = 140.0
    hold_slack_c: float = 5.0
    overshoot_c: float = 5.0
    together_c: float = 10.0
    pressure_kpa: float = 206.84
    pressure_slack_kpa: float = 20.0
    release_c: float = 100.0
    release_place: ReleasePlace = ReleasePlace.HOTTEST
    gap_min: float = 5.0
    case: CureCase | None = None

    def __post_init__(self) -> None:
        MINUTES.check("planned minutes", self.timed_min)
        MINUTES.check("longest gap", self.gap_min)
        PRESSURE.check("planned pressure", self.pressure_kpa)
        PRESSURE.check("slack of the pressure", self.pressure_slack_kpa)
        for slack in (self.hold_slack_c, self.overshoot_c, self.together_c):
            SLACK.check("slack of a temperature", slack)
        for temperature in (self.start_c, self.inside_hold_c, self.outside_hold_c, self.release_c):
            PAD.check("planned temperature", temperature)
        if not self.preheat_low_c <= self.preheat_high_c <= self.start_c <= self.coolest_hold_c:
            raise InvalidValueError(
                _("a plan's preheat, timer start and hold must follow one another upwards")
            )

    @property
    def coolest_hold_c(self) -> float:
        """The lower of both holds [°C]."""
        return min(self.inside_hold_c, self.outside_hold_c)
