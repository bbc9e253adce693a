"""The figures of a cure at the stage where they matter, each with who says so."""

from collections.abc import Iterator

from django.utils.translation import gettext as _

from planner.domain.cure_limits import CureLimit, CureLimits
from planner.selectors.preferences import Reading
from planner.selectors.reading_units import pressure_words, temperature_words
from planner.selectors.telling import in_words
from planner.web.timeline.appearance import Look


def limit_cautions(look: Look, limits: CureLimits | None, reading: Reading) -> tuple[str, ...]:
    """What pads and bags must keep to at such a stage, in the reader's units."""
    if limits is None:
        return ()
    return tuple(_CAUTIONS[look](_Told(limits, reading))) if look in _CAUTIONS else ()


class _Told:
    """Limits in the reader's units."""

    def __init__(self, limits: CureLimits, reading: Reading) -> None:
        self.limits, self.reading = limits, reading

    def celsius(self, limit: CureLimit) -> str:
        return temperature_words(self.limits.value(limit), self.reading)

    def kilopascal(self, limit: CureLimit) -> str:
        return pressure_words(self.limits.value(limit), self.reading)

    def sourced(self, words: str, *limits: CureLimit) -> str:
        """The words with whoever says so; nothing is added twice."""
        sources = dict.fromkeys(self.limits.source(limit) for limit in limits)
        return f"{words} ({'; '.join(sources)})"


def _rig(told: _Told) -> Iterator[str]:
    low, high = told.celsius(CureLimit.PREHEAT_LOW), told.celsius(CureLimit.PREHEAT_HIGH)
    words = _("Preheat both pads to between %(low)s and %(high)s") % {"low": low, "high": high}
    yield told.sourced(words, CureLimit.PREHEAT_LOW, CureLimit.PREHEAT_HIGH)
    yield told.sourced(_("Both bags at %s") % told.kilopascal(CureLimit.PRESSURE), CureLimit.PRESSURE)


def _heat_up(told: _Told) -> Iterator[str]:
    words = _("Start the clock with both pads at %s, not before") % told.celsius(CureLimit.START)
    yield told.sourced(words, CureLimit.START)


def _cure(told: _Told) -> Iterator[str]:
    inside, outside = told.celsius(CureLimit.INSIDE_HOLD), told.celsius(CureLimit.OUTSIDE_HOLD)
    words = _("Pads settle at %(inside)s inside and %(outside)s outside") % {
        "inside": inside,
        "outside": outside,
    }
    yield told.sourced(words, CureLimit.INSIDE_HOLD, CureLimit.OUTSIDE_HOLD)
    yield told.sourced(_("Both bags at %s") % told.kilopascal(CureLimit.PRESSURE), CureLimit.PRESSURE)
    every = f"{told.limits.value(CureLimit.HAND_GAP):g}"
    yield told.sourced(_("Readings by hand at least every %s min") % every, CureLimit.HAND_GAP)


def _cool_down(told: _Told) -> Iterator[str]:
    words = _("Keep the pressure until %(place)s is below %(limit)s") % {
        "place": in_words(told.limits.place.words),
        "limit": told.celsius(CureLimit.RELEASE),
    }
    yield told.sourced(words, CureLimit.RELEASE)


_CAUTIONS = {Look.RIG: _rig, Look.HEAT_UP: _heat_up, Look.CURE: _cure, Look.COOL_DOWN: _cool_down}
