"""Timed minutes, cool-down, energy and the points of a cure."""

from dataclasses import replace

import pytest

from planner.domain.errors import InvalidValueError
from planner.engineering.cure.case import Cooling, CureCase, Heating, Pad, ReleasePlace
from planner.engineering.cure.energy import warming_kwh
from planner.engineering.cure.estimate import cure_estimate, cure_estimates, cure_outcome
from tests.lib.cures import STOCK, case, layer, slab


def test_slowest_point_has_its_target_and_a_minute_less_would_not_do() -> None:
    """1.1 · 20 min = 22 equivalent minutes."""
    repair = case(60)
    needed = cure_estimate(repair)
    assert needed.slowest.equivalent_min >= 22
    assert cure_outcome(repair, timed_min=needed.timed_min - 1).slowest.equivalent_min < 22


def test_slowest_point_of_an_even_slab_is_its_middle() -> None:
    assert cure_estimate(case(60)).slowest.depth_m == pytest.approx(0.03)


def test_cool_down_counts_towards_the_cure() -> None:
    """Cooled at once to release, the same slab needs longer under heat."""
    slow = cure_estimate(case(60))
    quick = cure_estimate(case(60, cooling=Cooling(inside_w_m2k=400, outside_w_m2k=400)))
    assert quick.timed_min > slow.timed_min + 5


def test_heat_up_from_preheat_to_the_timer() -> None:
    """(120 − 60) / 2 = 30 min; with a slow outside pad (120 − 50) / 1 = 70 min."""
    assert cure_estimate(case(20)).heat_up_min == 30
    slow = Heating(outside=Pad(preheat_c=50, rise_c_min=1))
    assert cure_estimate(case(20, heating=slow)).heat_up_min == 70


def test_heat_up_adds_to_the_cure() -> None:
    """A slower heat-up warms the middle before the timer starts, so fewer timed minutes are needed."""
    slow = Heating(inside=Pad(rise_c_min=0.5), outside=Pad(rise_c_min=0.5))
    assert cure_estimate(case(60, heating=slow)).timed_min < cure_estimate(case(60)).timed_min


def test_release_measured_at_the_face_comes_sooner_than_at_the_hottest_point() -> None:
    at_face = case(60, cooling=Cooling(place=ReleasePlace.INSIDE_FACE))
    hottest, face = (cure_outcome(repair, timed_min=300) for repair in (case(60), at_face))
    assert face.cool_down_min < hottest.cool_down_min / 2


def test_cool_down_of_an_evenly_hot_slab() -> None:
    """60 mm at 140 °C, air 25 °C, h 10: the middle is at 100 °C after 87.58 min (computed), so 88."""
    assert cure_outcome(case(60), timed_min=2000).cool_down_min == 88


def test_thick_faces_pass_the_reversion_limit() -> None:
    limits = [cure_estimate(case(thickness)).within_reversion for thickness in (60.0, 120.0)]
    assert limits == [True, False]


def test_hold_above_the_reversion_temperature_is_told() -> None:
    hot = replace(STOCK, reversion_c=135.0)
    assert not cure_estimate(replace(case(20), compound=hot)).within_reversion


def test_a_batch_gives_what_each_repair_gives_alone() -> None:
    layered = replace(case(40), slab=slab(10, 30))
    repairs = [case(80), layered, case(20), case(50, margin=1.5)]
    for together, repair in zip(cure_estimates(repairs), repairs, strict=True):
        alone = cure_estimate(repair)
        assert together.timed_min == pytest.approx(alone.timed_min, abs=1)
        assert together.cool_down_min == pytest.approx(alone.cool_down_min, abs=1)


def test_layers_of_equal_rubber_are_one_layer() -> None:
    split = replace(case(40), slab=slab(10, 30))
    assert cure_estimate(split).timed_min == pytest.approx(cure_estimate(case(40)).timed_min, abs=1)


def test_rubber_energy_of_a_soaked_repair() -> None:
    """ρ cp L A ΔT = 1000 · 2000 · 0.02 · 0.25 · 120 J = 0.333333 kWh."""
    assert cure_outcome(case(20), timed_min=600).energy.rubber_kwh == pytest.approx(0.333333, rel=1e-5)


def test_pad_energy_and_losses_by_hand() -> None:
    """Pads 2 · 9000 J/K · 115 K = 0.575 kWh; losses 2 · 2 W/K · (140 min · 115 K − 40 · 40 K min) · 60 s.

    = 4 · (16100 − 1600) · 60 / 3.6e6 = 0.966667 kWh; off 30 + 110 = 140 min after the start.
    """
    pad = Pad(capacity_j_k=9000, loss_w_k=2)
    told = cure_outcome(case(20, heating=Heating(inside=pad, outside=pad)), timed_min=110).energy
    assert told.pads_kwh == pytest.approx(0.575)
    assert told.losses_kwh == pytest.approx(0.966667, rel=1e-5)
    assert told.total_kwh == pytest.approx(told.rubber_kwh + 0.575 + 0.966667, rel=1e-5)


def test_warming_of_a_mass() -> None:
    """23.0 · 1900 · 120 / 3.6e6 = 1.456667 kWh."""
    assert warming_kwh(mass_kg=23, heat_capacity_j_kgk=1900, rise_c=120) == pytest.approx(1.456667, abs=1e-6)


def test_a_cure_that_never_comes_is_refused_with_advice() -> None:
    cold = Pad(preheat_c=40, hold_c=60)
    with pytest.raises(InvalidValueError, match="not cured within 48 h"):
        cure_estimate(case(60, heating=Heating(inside=cold, outside=cold, start_c=50)))


@pytest.mark.parametrize("thickness_m", [0.0, -0.01, 0.6, float("nan"), float("inf")])
def test_thickness_outside_its_range_is_refused(thickness_m: float) -> None:
    with pytest.raises(InvalidValueError, match="thickness of fill must be from"):
        replace(layer(10), thickness_m=thickness_m)


def test_timer_must_lie_between_preheat_and_hold() -> None:
    with pytest.raises(InvalidValueError, match="between preheat and hold"):
        Heating(start_c=150)


def test_margin_below_one_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="cure margin"):
        CureCase(slab=slab(40), compound=STOCK, margin=0.9)
