"""Life of repaired tyres: whose records speak, what they say, and what bounds it."""

import numpy as np
import pytest

from planner.domain.errors import InvalidValueError
from planner.engineering.life_bound import LifeBounds, age_hours, tread_hours
from planner.engineering.life_curve import survival_curve
from planner.engineering.life_estimate import LifeEstimate, LifePrior, life_estimate
from planner.engineering.life_goodness import goodness
from planner.engineering.life_records import LifeBasis, LifeMeasure, LifeRecord
from planner.engineering.life_weibull import weibull_assumed, weibull_fit
from tests.lib.lives import records, stopped_group, two_kinds_group, weibull_group

PRIOR = LifePrior(mean=2500, shape=1.5)


def estimate(found: list[LifeRecord], measure: LifeMeasure = LifeMeasure.HOURS) -> LifeEstimate:
    return life_estimate(found, zone="sidewall", size_class="large", prior=PRIOR, measure=measure)


@pytest.mark.parametrize(
    ("found", "basis"),
    [
        (records("sidewall", "large", 8), LifeBasis.ZONE_AND_SIZE),
        (records("sidewall", "large", 4) + records("sidewall", "small", 4), LifeBasis.ZONE),
        (records("sidewall", "large", 4) + records("crown", "large", 4), LifeBasis.SIZE),
        (records("crown", "small", 8), LifeBasis.SITE),
        (records("sidewall", "large", 7), LifeBasis.ASSUMPTION),
        ([], LifeBasis.ASSUMPTION),
    ],
)
def test_the_nearest_records_that_suffice_speak(found: list[LifeRecord], basis: LifeBasis) -> None:
    life = estimate(found)
    assert life.basis is basis
    assert life.assumed == (basis is LifeBasis.ASSUMPTION)
    assert (life.records is None) == life.assumed


def test_an_assumption_has_the_mean_that_was_assumed() -> None:
    assert estimate([]).life.mean_within(np.inf) == pytest.approx(2500)


def test_distance_uses_only_the_records_that_have_one() -> None:
    life = estimate(records("sidewall", "large", 8), LifeMeasure.DISTANCE)
    assert life.records is not None
    assert life.records.group.lengths.size == 8
    assert life.records.group.lengths.min() == 10000


def test_equal_failures_have_no_spread_to_fit() -> None:
    same = [LifeRecord(zone="sidewall", size_class="large", failed=True, hours=900)] * 10
    assert estimate(same).assumed


def test_a_fit_that_the_records_speak_against_is_not_used() -> None:
    group = two_kinds_group(3, 60)
    check = goodness(group, weibull_fit(group))
    assert not check.fits
    found = [
        LifeRecord(zone="sidewall", size_class="large", failed=bool(failed), hours=float(hours))
        for hours, failed in zip(group.lengths, group.failed, strict=True)
    ]
    life = estimate(found)
    assert life.records is not None
    assert life.life is life.records.curve


def test_goodness_keeps_the_truth_and_repeats_itself() -> None:
    group = weibull_group(5, 60)
    check = goodness(group, weibull_fit(group))
    assert check.fits
    assert check == goodness(group, weibull_fit(group))


def test_goodness_without_censoring() -> None:
    random = np.random.default_rng(2)
    group = stopped_group(1000 * random.weibull(2, 40), np.full(40, np.inf))
    assert goodness(group, weibull_fit(group)).fits


def test_a_curve_by_hand() -> None:
    # Fails at 100 and 300, watched to 200 and 400: S = 3/4 from 100, then 3/4 × 1/2 from 300.
    curve = survival_curve(
        stopped_group(np.array([100.0, 999.0, 300.0, 999.0]), np.array([999.0, 200.0, 999.0, 400.0]))
    )
    assert [curve.at(hours) for hours in (99, 100, 299, 300, 400)] == [1, 0.75, 0.75, 0.375, 0.375]
    assert curve.median() == 300
    assert curve.mean_within(200) == pytest.approx(100 + 0.75 * 100)
    assert curve.mean_within(1e9) == pytest.approx(100 + 0.75 * 200 + 0.375 * 100)


def test_a_curve_that_stays_above_half_has_no_median() -> None:
    curve = survival_curve(stopped_group(np.array([100.0, 999, 999]), np.array([999.0, 500, 500])))
    assert curve.median() is None


def test_band_holds_the_curve() -> None:
    curve = survival_curve(weibull_group(1, 50))
    assert (curve.low <= curve.share + 1e-12).all()
    assert (curve.share <= curve.high + 1e-12).all()


def test_weibull_band_holds_the_fit_and_narrows_with_records() -> None:
    at = np.array([500.0, 2000.0, 4000.0])
    widths = []
    for count in (20, 2000):
        life = weibull_fit(weibull_group(4, count))
        low, high = life.band(at)
        assert all(a < life.at(float(x)) < b for a, x, b in zip(low, at, high, strict=True))
        widths.append((high - low).max())
    assert widths[1] < widths[0] / 5


def test_an_exponential_life_within_a_bound() -> None:
    # Shape 1: E[min(T, b)] = m (1 − exp(−b / m)).
    life = weibull_assumed(1000, 1)
    assert life.mean_within(1000) == pytest.approx(1000 * (1 - np.exp(-1)))
    assert life.median() == pytest.approx(1000 * np.log(2))


@pytest.mark.parametrize("fitted", [True, False])
def test_draws_have_the_mean_of_their_life(fitted: bool) -> None:
    group = weibull_group(8, 3000)
    life = weibull_fit(group) if fitted else survival_curve(group)
    drawn = life.draw(np.random.default_rng(1), 200_000)
    assert np.minimum(drawn, 4000).mean() == pytest.approx(life.mean_within(4000), rel=0.01)


def test_tread_and_age_bound_a_life() -> None:
    # 30 mm left above 10 mm at 5 mm per 1000 h; 1.5 years at 5000 h a year.
    bounds = LifeBounds(tread_hours=tread_hours(40, 10, 5), age_hours=age_hours(4.5, 6, 5000))
    assert (bounds.tread_hours, bounds.age_hours) == (6000, 7500)
    assert (bounds.hours, bounds.cause) == (6000, "tread")
    assert LifeBounds(tread_hours=2, age_hours=1).cause == "casing age"


def test_a_tyre_past_a_bound_has_no_hours_left() -> None:
    assert (tread_hours(9, 10, 5), age_hours(7, 6, 5000)) == (0, 0)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="tread wear"):
        tread_hours(40, 10, 0)
    with pytest.raises(InvalidValueError, match="hours a year"):
        age_hours(1, 6, 0)
    with pytest.raises(InvalidValueError, match="hours and distance"):
        LifeRecord(zone="crown", size_class="large", failed=True, hours=0)
    with pytest.raises(InvalidValueError, match="mean and a shape"):
        weibull_assumed(0, 1)
    with pytest.raises(InvalidValueError, match="two failures"):
        weibull_fit(stopped_group(np.array([9.0, 9.0]), np.array([10.0, 10.0])))
