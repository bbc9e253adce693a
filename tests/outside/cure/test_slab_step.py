"""A slab with both faces stepped, against the series."""

import csv
from pathlib import Path

import pytest

from planner.engineering.heat.faces import Stage, pressed
from planner.engineering.heat.history import Resolution, SlabHistory, slab_history
from tests.lib.cures import slab

PUBLISHED = Path("fixtures/published")
FINE = Resolution(cells=161, step_min=0.25)


def rows(name: str) -> list[dict[str, str]]:
    with (PUBLISHED / f"{name}.csv").open(newline="") as file:
        return list(csv.DictReader(file))


def stepped(
    thickness_mm: float, minutes: float, *, initial_c: float = 20.0, resolution: Resolution = FINE
) -> SlabHistory:
    stage = Stage(minutes=minutes, inside=pressed(140), outside=pressed(140))
    return slab_history(slab(thickness_mm), initial_c=initial_c, stages=[stage], resolution=resolution)


@pytest.mark.parametrize("row", rows("slab_step"), ids=lambda row: "-".join(list(row.values())[:6]))
def test_temperature_equals_the_series(row: dict[str, str]) -> None:
    """Values computed by series to 1e-8; here within 0.02 °C of a 120 °C step."""
    half_m = float(row["thickness_mm"]) / 2000
    history = stepped(float(row["thickness_mm"]), float(row["time_min"]), initial_c=float(row["T0_C"]))
    depth_m = half_m * (1 + float(row["x_over_half"]))
    assert history.at(depth_m)[-1] == pytest.approx(float(row["T_C"]), abs=0.02)


@pytest.mark.parametrize(("fourier", "theta"), [(0.1, 0.949305363), (0.5, 0.370777430), (1.0, 0.107977044)])
def test_mid_plane_theta_at_fourier_numbers(fourier: float, theta: float) -> None:
    """Carslaw and Jaeger §3.4, from memory; values computed by series to 1e-8. t = Fo L²/α, L = 20 mm."""
    minutes = fourier * 0.02**2 / 1e-7 / 60
    history = stepped(40, minutes, resolution=Resolution(cells=161, step_min=minutes / 400))
    assert (140 - history.at(0.02)[-1]) / 120 == pytest.approx(theta, abs=1e-4)


def test_double_thickness_takes_four_times_as_long() -> None:
    """T(L, t) = T(2L, 4t): an identity of the equation, so it holds on the same grid to round-off."""
    thin = stepped(40, 60, resolution=Resolution(cells=41, step_min=1))
    thick = stepped(80, 240, resolution=Resolution(cells=41, step_min=4))
    assert thick.temperature_c == pytest.approx(thin.temperature_c, abs=1e-9)
    assert stepped(80, 240).at(0.04)[-1] == pytest.approx(123.416716, abs=0.01)


@pytest.mark.parametrize(
    "row", rows("slab_fraction_times"), ids=lambda row: f"{row['thickness_mm']}-{row['fraction_of_step']}"
)
def test_fraction_of_the_step_is_reached_at_its_time(row: dict[str, str]) -> None:
    """Times computed by series to 1e-8: at that time the mid-plane has that fraction of the step."""
    minutes = float(row["time_min"])
    history = stepped(
        float(row["thickness_mm"]), minutes, resolution=Resolution(cells=161, step_min=minutes / 300)
    )
    reached = (history.at(float(row["thickness_mm"]) / 2000)[-1] - 20) / 120
    assert reached == pytest.approx(float(row["fraction_of_step"]), abs=2e-4)
