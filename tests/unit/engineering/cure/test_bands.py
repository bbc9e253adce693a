"""Bands from uncertain properties."""

import pytest

from planner.domain.errors import InvalidValueError
from planner.engineering.cure.bands import Uncertainty, cure_bands, minute_band
from planner.engineering.cure.estimate import cure_estimate
from tests.lib.cures import case, layer


def test_same_seed_same_bands() -> None:
    assert cure_bands(case(40), samples=40, seed=7) == cure_bands(case(40), samples=40, seed=7)


def test_certain_properties_give_the_estimate_itself() -> None:
    certain = Uncertainty(diffusivity_share=0, ambient_c=0, contact_share=0)
    bands = cure_bands(case(40), uncertainty=certain, samples=20)
    assert bands.timed.p50_min == bands.timed.p90_min == cure_estimate(case(40)).timed_min


def test_p90_lies_between_the_estimate_and_the_worst_diffusivity() -> None:
    """The slowest α is 0.7 of what is told; P90 of an even spread lies short of it."""
    bands = cure_bands(case(60), samples=100)
    worst = case(60, cooling=case().cooling)
    slow = cure_estimate(
        type(worst)(
            slab=type(worst.slab)(layers=(layer(60, conductivity_w_mk=0.14),)), compound=worst.compound
        )
    )
    assert cure_estimate(case(60)).timed_min < bands.timed.p90_min < slow.timed_min + 5
    assert bands.timed.p50_min < bands.timed.p90_min


def test_quantiles_are_minutes_that_occur() -> None:
    """Ten values: P50 lies between the 5th and 6th, so the 6th; P90 between the 9th and 10th, so the 10th."""
    band = minute_band([10, 20, 30, 40, 50, 60, 70, 80, 90, 100])
    assert (band.p50_min, band.p90_min) == (60, 100)


def test_too_few_samples_are_refused() -> None:
    with pytest.raises(InvalidValueError, match="samples"):
        cure_bands(case(40), samples=5)
