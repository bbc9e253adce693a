"""Equivalent minutes of known histories."""

import csv
from pathlib import Path

import numpy as np
import pytest

from planner.engineering.cure.equivalent import series_equivalent_min, steps_equivalent_min
from planner.engineering.cure.kinetics import GAS_CONSTANT_J_MOLK, Arrhenius, CureLaw, TenDegreeRule
from planner.engineering.heat.faces import Stage, pressed
from planner.engineering.heat.history import Resolution, slab_history
from tests.lib.cures import DOUBLING, slab

LAWS: dict[str, CureLaw] = {
    "eq_min_at_140_Q10_2": DOUBLING,
    "eq_min_at_140_Ea90kJ": Arrhenius(reference_c=140, activation_energy_j_mol=90_000),
}


def held(law: CureLaw, *steps: tuple[float, float]) -> float:
    """Equivalent minutes of (minutes, °C) held one after another, with jumps between."""
    ends = np.cumsum([minutes for minutes, _ in steps])
    times = np.array(
        [time for end, (minutes, _) in zip(ends, steps, strict=True) for time in (end - minutes, end)]
    )
    temperatures = np.array([temperature for _, temperature in steps for _ in range(2)], dtype=float)
    return float(series_equivalent_min(law, times, temperatures).sum())


def test_geankoplis_example_9_12_1() -> None:
    """Geankoplis Ex. 9.12-1: 20 min at 71.1 °C, 20 at 98.9, 33 at 110.0, ref. 121.1, factor 10: 2.68.

    20·10^−5 + 20·10^−2.22 + 33·10^−1.11 = 2.682327.
    """
    law = TenDegreeRule(reference_c=121.1, factor=10)
    assert held(law, (20, 71.1), (20, 98.9), (33, 110.0)) == pytest.approx(2.682327, abs=1e-6)


def test_steps_by_hand() -> None:
    """20 at 120, 30 at 130, 60 at 140, 10 at 150, factor 2: 20/4 + 30/2 + 60 + 10·2 = 100."""
    assert held(DOUBLING, (20, 120), (30, 130), (60, 140), (10, 150)) == pytest.approx(100, abs=1e-9)


def test_steps_by_arrhenius() -> None:
    """The same with Ea 100 kJ/mol: 99.017216, computed by quadrature."""
    law = Arrhenius(reference_c=140, activation_energy_j_mol=100_000)
    assert held(law, (20, 120), (30, 130), (60, 140), (10, 150)) == pytest.approx(99.017216, abs=1e-6)


@pytest.mark.parametrize(
    ("minutes", "start_c", "end_c", "worth"), [(40, 60, 140, 7.185297567), (40, 140, 100, 13.525266008)]
)
def test_ramp_and_cool_down_by_hand(minutes: float, start_c: float, end_c: float, worth: float) -> None:
    """∫ 2^((T − 140)/10) dt of a straight line: (r₁ − r₀) / ((ln 2/10) · °C per min).

    Up at 2 °C/min: (1 − 2⁻⁸) / 0.138629 = 7.185298; down at 1: (1 − 2⁻⁴) / 0.0693147 = 13.525266.
    """
    told = series_equivalent_min(DOUBLING, np.array([0.0, minutes]), np.array([start_c, end_c], dtype=float))
    assert told.sum() == pytest.approx(worth, abs=1e-8)


def test_activation_energy_that_doubles_from_140_to_150() -> None:
    """Ln 2 · R / (1/413.15 − 1/423.15) = 100.754 kJ/mol, computed."""
    energy = np.log(2) * GAS_CONSTANT_J_MOLK / (1 / 413.15 - 1 / 423.15)
    assert energy == pytest.approx(100_754, abs=1)
    law = Arrhenius(reference_c=140, activation_energy_j_mol=float(energy))
    assert law.rate(np.array(150.0)) == pytest.approx(2, abs=1e-12)


def slab_rows() -> list[dict[str, str]]:
    with Path("fixtures/published/slab_equivalent_minutes.csv").open(newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", slab_rows(), ids=lambda row: "-".join(list(row.values())[:5]))
def test_equivalent_minutes_in_slabs(row: dict[str, str]) -> None:
    """Series and quadrature to 1e-8; here within 0.1 % and 0.002 min."""
    thickness_mm = float(row["thickness_mm"])
    stage = Stage(minutes=float(row["time_min"]), inside=pressed(140), outside=pressed(140))
    history = slab_history(
        slab(thickness_mm),
        initial_c=float(row["T0_C"]),
        stages=[stage],
        resolution=Resolution(cells=161, step_min=0.25),
    )
    depth_m = thickness_mm / 2000 * (1 + float(row["x_over_half"]))
    for column, law in LAWS.items():
        told = np.interp(depth_m, history.depth_m, steps_equivalent_min(law, history.steps)[0])
        assert told == pytest.approx(float(row[column]), rel=1e-3, abs=2e-3)


@pytest.mark.parametrize(
    ("thickness_mm", "minutes"), [(20, 49.79), (40, 103.49), (60, 178.76), (80, 270.96), (120, 498.89)]
)
def test_time_to_gain_thirty_minutes_in_the_middle(thickness_mm: float, minutes: float) -> None:
    """20 → 140 °C, factor 2: times to gain 30 equivalent minutes, computed by series."""
    stage = Stage(minutes=minutes, inside=pressed(140), outside=pressed(140))
    resolution = Resolution(cells=161, step_min=minutes / 800)
    history = slab_history(slab(thickness_mm), initial_c=20, stages=[stage], resolution=resolution)
    worth = steps_equivalent_min(DOUBLING, history.steps)[0]
    assert np.interp(thickness_mm / 2000, history.depth_m, worth) == pytest.approx(30, abs=0.03)
