"""A cure log of an invented site, good as it stands, for tests to plant faults in."""

from datetime import datetime, timedelta

import numpy as np

from planner.domain.cure_limits import ReleasePlace
from planner.engineering.cure_log.columns import ColumnMap
from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.plan import CurePlan
from planner.engineering.cure_log.read import Row, cure_log_read
from planner.engineering.cure_log.units import PressureUnit
from planner.engineering.heat.tridiagonal import FloatArray
from tests.lib.cures import case

START = datetime(2026, 8, 3, 8, 0)  # noqa: DTZ001 - a logger's wall time
COLUMNS = ColumnMap(
    time="Time", inside="In", outside="Out", pressure=("Bag",), pressure_unit=PressureUnit.PSI
)
PLAN = CurePlan(timed_min=160, case=case(60), release_place=ReleasePlace.INSIDE_FACE)

CORNERS_MIN = (0, 40, 200, 290)
"""Preheat 60 °C, up to 140 at 2 °C/min (120 at 30 min), held until 200, at 80 °C by 290 [min]."""


def readings(step_min: float = 1.0) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Minutes, inside and outside [°C], pressure [psi]: let go at 280 min, when the pads are below 90 °C."""
    minutes = np.arange(0, 291, step_min)
    inside = np.interp(minutes, CORNERS_MIN, (60, 140, 140, 80))
    pressure = np.where(minutes < 280, 30.0, 0.0)
    return minutes, inside, inside - 1, pressure


def rows(
    minutes: np.ndarray,
    inside: np.ndarray,
    outside: np.ndarray,
    pressure: np.ndarray,
    start: datetime = START,
) -> list[Row]:
    """Rows as a logger with a clock writes them."""
    return [
        {"Time": (start + timedelta(minutes=float(when))).isoformat(sep=" "), "In": a, "Out": b, "Bag": p}
        for when, a, b, p in zip(minutes, inside.tolist(), outside.tolist(), pressure.tolist(), strict=True)
    ]


def good_log() -> CureLog:
    """The log with nothing planted."""
    return cure_log_read(rows(*readings()), COLUMNS)
