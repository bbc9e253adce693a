"""The figures of a cure at the stage where they matter."""

from planner.domain.cure_limits import CureLimit, CureLimits, KnownLimit, ReleasePlace
from planner.selectors.preferences import Reading
from planner.web.limit_cautions import limit_cautions
from planner.web.timeline.appearance import Look

METRIC = Reading(language="en", temperature_unit="°C", pressure_unit="kPa")
GAUGES = Reading(language="en", temperature_unit="°F", pressure_unit="psi")


def test_common_practice_says_that_it_is() -> None:
    """50 to 70 °C is 122 to 158 °F; 206.84 kPa is 30 psi."""
    assert limit_cautions(Look.RIG, CureLimits(), METRIC)[0] == (
        "Preheat both pads to between 50 °C and 70 °C (common practice)"
    )
    assert limit_cautions(Look.RIG, CureLimits(), GAUGES) == (
        "Preheat both pads to between 122 °F and 158 °F (common practice)",
        "Both bags at 30.0 psi (common practice)",
    )


def test_a_limit_of_its_own_names_its_source_and_its_place() -> None:
    own = {CureLimit.RELEASE: KnownLimit(value=90, source="Fill stock: maker's sheet 7")}
    limits = CureLimits(given=own, place=ReleasePlace.MIDDLE)
    assert limit_cautions(Look.COOL_DOWN, limits, METRIC) == (
        "Keep the pressure until the middle of the repair is below 90 °C (Fill stock: maker's sheet 7)",
    )


def test_other_stages_and_contradicting_limits_say_nothing() -> None:
    assert limit_cautions(Look.HANDS_ON, CureLimits(), METRIC) == ()
    assert limit_cautions(Look.CURE, None, METRIC) == ()
