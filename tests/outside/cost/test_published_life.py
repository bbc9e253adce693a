"""Life against published data and against lifelines.

Weibull: NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3. Kaplan–Meier: the 6-MP arm of Freireich
et al. (1963), Blood 21:699, remission times in weeks.
"""

import warnings

import numpy as np
import pytest

from planner.engineering.life_curve import survival_curve
from planner.engineering.life_records import LifeBasis, LifeGroup, LifeMeasure
from planner.engineering.life_weibull import negative_log_likelihood, weibull_fit

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    from lifelines import KaplanMeierFitter, WeibullFitter

NIST_FAILURES = (54, 187, 216, 240, 244, 335, 361, 373, 375, 386)
FAILED_6MP = (6, 6, 6, 7, 10, 13, 16, 22, 23)
CENSORED_6MP = (6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35)


def group(failed: tuple[float, ...], censored: tuple[float, ...]) -> LifeGroup:
    return LifeGroup(
        basis=LifeBasis.SITE,
        measure=LifeMeasure.HOURS,
        lengths=np.array([*failed, *censored], dtype=np.float64),
        failed=np.array([True] * len(failed) + [False] * len(censored)),
    )


def test_nist_8_4_1_3() -> None:
    records = group(NIST_FAILURES, (500,) * 10)
    life = weibull_fit(records)
    assert life.shape == pytest.approx(1.7208, abs=1e-4)
    assert life.scale == pytest.approx(606.528, abs=5e-3)
    assert negative_log_likelihood(records, life.shape, life.scale) == pytest.approx(75.135, abs=1e-3)


def test_6_mp_survival() -> None:
    curve = survival_curve(group(FAILED_6MP, CENSORED_6MP))
    assert curve.at(6) == pytest.approx(0.857143, abs=1e-6)  # 18 / 21
    assert curve.at(5.9) == 1
    assert curve.median() == 23


def random_group(seed: int) -> LifeGroup:
    random = np.random.default_rng(seed)
    count = int(random.integers(20, 200))
    lengths = 4000 * random.weibull(1.8, count)
    stops = random.uniform(500, 9000, count)
    failed = lengths <= stops
    return LifeGroup(
        basis=LifeBasis.SITE,
        measure=LifeMeasure.HOURS,
        lengths=np.minimum(lengths, stops),
        failed=failed,
    )


@pytest.mark.parametrize("seed", range(10))
def test_curve_is_that_of_lifelines(seed: int) -> None:
    records = random_group(seed)
    theirs = KaplanMeierFitter().fit(records.lengths, records.failed)
    curve = survival_curve(records)
    expected = theirs.survival_function_at_times(curve.lengths).to_numpy()
    assert curve.share == pytest.approx(expected, abs=1e-9)
    band = theirs.confidence_interval_.loc[curve.lengths].to_numpy()
    sound = (curve.share > 0) & (curve.share < 1)
    assert curve.low[sound] == pytest.approx(band[sound, 0], abs=1e-6)
    assert curve.high[sound] == pytest.approx(band[sound, 1], abs=1e-6)


@pytest.mark.parametrize("seed", range(10))
def test_fit_and_its_doubt_are_those_of_lifelines(seed: int) -> None:
    records = random_group(seed)
    life = weibull_fit(records)
    theirs = WeibullFitter().fit(records.lengths, records.failed)
    assert life.shape == pytest.approx(theirs.rho_, rel=1e-3)
    assert life.scale == pytest.approx(theirs.lambda_, rel=1e-3)
    # Theirs is of the parameters, ours of their logarithms.
    shape_error = theirs.summary.loc["rho_", "se(coef)"] / theirs.rho_
    assert np.sqrt(life.covariance[0, 0]) == pytest.approx(shape_error, rel=5e-3)


@pytest.mark.parametrize("seed", range(3))
def test_the_bands_of_shape_and_scale_are_those_of_lifelines(seed: int) -> None:
    records = random_group(seed)
    life, theirs = weibull_fit(records), WeibullFitter().fit(records.lengths, records.failed).summary
    for ours, name in zip(life.parameter_bands(), ("rho_", "lambda_"), strict=True):
        # Theirs is normal in the parameter, ours in its logarithm: the same width to second order.
        width = theirs.loc[name, "coef upper 95%"] - theirs.loc[name, "coef lower 95%"]
        assert ours[1] - ours[0] == pytest.approx(width, rel=0.03)
