"""The limits of a cure: what pads, bags and release must keep to here, and who says so."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import Sentence, _

COMMON_PRACTICE = _("common practice")
ASSUMED = _("assumed here: ask for the set's own")


class CureLimit(StrEnum):
    """What a limit is of."""

    PREHEAT_LOW = "preheat_low_c"
    PREHEAT_HIGH = "preheat_high_c"
    RISE = "rise_c_min"
    START = "start_c"
    INSIDE_HOLD = "inside_hold_c"
    OUTSIDE_HOLD = "outside_hold_c"
    HOLD_SLACK = "hold_slack_c"
    OVERSHOOT = "overshoot_c"
    TOGETHER = "together_c"
    PRESSURE = "pressure_kpa"
    PRESSURE_SLACK = "pressure_slack_kpa"
    RELEASE = "release_c"
    REPAIR = "repair_c"
    BAY = "bay_c"
    CONTACT = "contact_m2k_w"
    COOLING = "cooling_w_m2k"
    MARGIN = "margin"
    PAD_AREA = "pad_area_m2"
    PAD_HEAT = "pad_heat_kj_k"
    PAD_LOSS = "pad_loss_w_k"
    LOGGER_GAP = "gap_min"
    HAND_GAP = "hand_gap_min"


class ReleasePlace(StrEnum):
    """Where the temperature is taken that lets the pressure go."""

    HOTTEST = "hottest"
    MIDDLE = "middle"
    INSIDE_FACE = "inside_face"
    OUTSIDE_FACE = "outside_face"

    @property
    def words(self) -> Sentence:
        """Where that is."""
        return _PLACES[self]


_PLACES = {
    ReleasePlace.HOTTEST: _("the hottest point"),
    ReleasePlace.MIDDLE: _("the middle of the repair"),
    ReleasePlace.INSIDE_FACE: _("the inside face"),
    ReleasePlace.OUTSIDE_FACE: _("the outside face"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitKind:
    """A kind of limit: its words, the usual figure and who says so, its unit, and what is believed of it."""

    words: Sentence
    usual: float
    unit: str
    low: float
    high: float
    usual_source: str = COMMON_PRACTICE


_OF_A_SET = frozenset({CureLimit.PAD_AREA, CureLimit.PAD_HEAT, CureLimit.PAD_LOSS})

KINDS: Mapping[CureLimit, LimitKind] = MappingProxyType(
    {
        kind: LimitKind(
            words=words,
            usual=usual,
            unit=unit,
            low=low,
            high=high,
            usual_source=ASSUMED if kind in _OF_A_SET else COMMON_PRACTICE,
        )
        for kind, words, usual, unit, low, high in (
            (CureLimit.PREHEAT_LOW, _("pads preheated to at least"), 50.0, "°C", 0, 120),
            (CureLimit.PREHEAT_HIGH, _("pads preheated to at most"), 70.0, "°C", 0, 120),
            (CureLimit.RISE, _("pads heat up by"), 2.0, "°C/min", 0.05, 50),
            (CureLimit.START, _("the cure's clock starts with both pads at"), 120.0, "°C", 40, 180),
            (CureLimit.INSIDE_HOLD, _("the inside pad settles at"), 140.0, "°C", 60, 180),
            (CureLimit.OUTSIDE_HOLD, _("the outside pad settles at"), 140.0, "°C", 60, 180),
            (CureLimit.HOLD_SLACK, _("a pad may settle below its hold by"), 5.0, "°C", 0, 30),
            (CureLimit.OVERSHOOT, _("a pad may pass its hold by"), 5.0, "°C", 0, 30),
            (CureLimit.TOGETHER, _("the pads may lie apart by"), 10.0, "°C", 0, 50),
            (CureLimit.PRESSURE, _("both bags at"), 206.84, "kPa", 10, 1000),
            (CureLimit.PRESSURE_SLACK, _("the bags may be off by"), 20.0, "kPa", 0, 300),
            (CureLimit.RELEASE, _("pressure is held until below"), 100.0, "°C", 30, 150),
            (CureLimit.REPAIR, _("the repair is at the start at"), 20.0, "°C", -40, 60),
            (CureLimit.BAY, _("the bay is at"), 25.0, "°C", -40, 60),
            (CureLimit.CONTACT, _("between pad and rubber"), 0.0, "m2K/W", 0, 0.1),
            (CureLimit.COOLING, _("under the bags heat leaves by"), 10.0, "W/m2K", 0.5, 500),
            (CureLimit.MARGIN, _("the slowest point gets this many times t90"), 1.1, "×", 1, 3),
            (CureLimit.PAD_AREA, _("each pad covers"), 0.25, "m2", 0.001, 10),
            (CureLimit.PAD_HEAT, _("each pad takes up"), 8.0, "kJ/K", 0, 1000),
            (CureLimit.PAD_LOSS, _("each pad loses to the bay"), 2.5, "W/K", 0, 100),
            (CureLimit.LOGGER_GAP, _("a logger may be silent for"), 5.0, "min", 0.1, 120),
            (CureLimit.HAND_GAP, _("readings by hand at least every"), 15.0, "min", 1, 240),
        )
    }
)
"""Common practice; a site's own figures and their source replace each. 206.84 kPa is 30 psi.

No practice is common for what a pad covers, takes up and loses: 0.25 m2, 6.7 kg of rubber at 1.2 kJ/kgK, and
10 W/m2K at its back are assumed, and serve the energy of a cure alone.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownLimit:
    """A limit that holds somewhere, and who says so."""

    value: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CureLimits:
    """Every limit that holds for a cure; what nobody gave is common practice, or assumed.

    Args:
        given: the limits that site, set or material have of their own.
        place: where the release temperature is taken.

    >>> CureLimits().value(CureLimit.START), CureLimits().source(CureLimit.START)
    (120.0, 'common practice')

    """

    given: Mapping[CureLimit, KnownLimit] = field(default_factory=dict)
    place: ReleasePlace = ReleasePlace.HOTTEST

    def __post_init__(self) -> None:
        for limit, known in self.given.items():
            limit_check(limit, known.value)
        self._follow(CureLimit.PREHEAT_LOW, CureLimit.PREHEAT_HIGH)
        self._follow(CureLimit.PREHEAT_HIGH, CureLimit.START)
        self._follow(CureLimit.START, CureLimit.INSIDE_HOLD)
        self._follow(CureLimit.START, CureLimit.OUTSIDE_HOLD)
        self._follow(CureLimit.BAY, CureLimit.RELEASE, by=5.0)

    def value(self, limit: CureLimit) -> float:
        """The figure that holds, in the limit's unit."""
        known = self.given.get(limit)
        return KINDS[limit].usual if known is None else known.value

    def source(self, limit: CureLimit) -> str:
        """Who says so."""
        known = self.given.get(limit)
        return KINDS[limit].usual_source if known is None else known.source

    def _follow(self, low: CureLimit, high: CureLimit, *, by: float = 0.0) -> None:
        if self.value(low) + by > self.value(high):
            one, two = (
                f"{KINDS[each].words} {self.value(each):g} {KINDS[each].unit} ({self.source(each)})"
                for each in (low, high)
            )
            raise InvalidValueError(
                _("the limits of the cure contradict each other: {one}, but {two}", one=one, two=two)
            )


def limit_check(limit: CureLimit, value: float) -> None:
    """Raise InvalidValueError where no cure can have such a limit."""
    kind = KINDS[limit]
    if not kind.low <= value <= kind.high:
        raise InvalidValueError(
            _(
                "{words}: from {low:g} to {high:g} {unit}, not {value:g}",
                words=kind.words,
                low=kind.low,
                high=kind.high,
                unit=kind.unit,
                value=value,
            )
        )
