"""A published rule of so many minutes per thickness, and where conduction overtakes it.

US Army TM 9-2610-200-14, p. 2-87: hot spot repair at 138-149 °C, 6 min for each 1/32 in of tread rubber.
"""

import numpy as np
import pytest

from planner.engineering.heat.faces import INSULATED, Stage, pressed
from planner.engineering.heat.history import Resolution, slab_history
from tests.lib.cures import slab

RULE_MIN_PER_MM = 6 / (25.4 / 32)


def heated_share(thickness_mm: float) -> float:
    """Share of the step that the far side has when the rule's minutes are over, heated from one side."""
    minutes = RULE_MIN_PER_MM * thickness_mm
    stage = Stage(minutes=minutes, inside=pressed(140), outside=INSULATED)
    history = slab_history(
        slab(thickness_mm),
        initial_c=20,
        stages=[stage],
        resolution=Resolution(cells=161, step_min=minutes / 400),
    )
    return float((history.temperature_c[-1, -1] - 20) / 120)


def test_rule_is_about_seven_and_a_half_minutes_per_millimetre() -> None:
    """6 / 0.79375 mm = 7.559 min/mm."""
    assert pytest.approx(7.559, abs=0.001) == RULE_MIN_PER_MM


def test_rule_is_generous_below_and_too_short_beyond() -> None:
    """95 % of the step on the far side at Fo = 1.31203: L = 7.559e3 · 60 · 1e-7 / 1.31203 = 34.6 mm."""
    shares = {thickness: heated_share(thickness) for thickness in (20.0, 34.0, 34.6, 35.2, 60.0)}
    assert shares[20.0] > 0.99
    assert shares[34.0] > 0.95
    assert shares[34.6] == pytest.approx(0.95, abs=5e-4)
    assert shares[35.2] < 0.95
    # 60 mm: Fo = 1e-7 · 27213 / 0.0036 = 0.7559; 1 − 4/π · exp(−π²/4 · 0.7559) = 0.8028
    assert shares[60.0] == pytest.approx(0.8028, abs=5e-4)


def test_rule_falls_ever_shorter_with_thickness() -> None:
    """Minutes grow with L, conduction asks for L²: the share falls with every step."""
    shares = [heated_share(thickness) for thickness in (30.0, 40.0, 50.0, 80.0)]
    assert (np.diff(shares) < 0).all()
    assert shares[-1] == pytest.approx(0.6857, abs=5e-4)  # Fo 0.5669
