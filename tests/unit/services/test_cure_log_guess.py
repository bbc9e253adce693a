"""A first guess at what a logger's columns are."""

from datetime import datetime
from typing import Any

import pytest

from planner.models import Site
from planner.services.cure_log_guess import columns_guessed

CASES: list[tuple[dict[str, Any], dict[str, Any]]] = [
    (
        {"Timestamp": "2026-06-01 06:00", "T_in (°F)": 140, "T_out (°F)": 141, "P1 (bar)": 2, "P2 (bar)": 2},
        {
            "time": "Timestamp", "inside": "T_in (°F)", "outside": "T_out (°F)",
            "pressure": ["P1 (bar)", "P2 (bar)"], "temperature_unit": "fahrenheit", "pressure_unit": "bar",
            "time_kind": "clock", "time_zone": "Australia/Perth",
        },
    ),
    (
        {"Date": "1/6/2026", "Time": "06:00", "Outside pad": 61, "Inside pad": 60, "Bag in [psi]": 30},
        {"date": "Date", "time": "Time", "inside": "Inside pad", "pressure_unit": "psi"},
    ),
    (
        {"Date/Time": datetime(2026, 6, 1), "CH1": 60, "CH2": 61},  # noqa: DTZ001 - a logger's wall time
        {"date": None, "time": "Date/Time", "inside": "CH1", "outside": "CH2", "pressure": []},
    ),
    (
        {"Elapsed (s)": "0", "inner": "60", "outer": "61", "Bag_kPa": "207"},
        {"time_kind": "elapsed_seconds", "time_zone": None, "pressure": ["Bag_kPa"], "pressure_unit": "kpa"},
    ),
    (
        {"Minutes": 0, "Inside_F": 140, "Outside_F": 141, "Pressure_psi": 30},
        {"time_kind": "elapsed_minutes", "temperature_unit": "fahrenheit", "pressure_unit": "psi"},
    ),
]  # fmt: skip


@pytest.mark.parametrize(("row", "expected"), CASES, ids=lambda each: next(iter(each)))
def test_names_and_first_readings_tell_the_columns(row: dict[str, Any], expected: dict[str, Any]) -> None:
    guessed = columns_guessed([row], site=Site(time_zone="Australia/Perth"))
    assert {name: guessed[name] for name in expected} == expected
    used = [guessed["time"], guessed["inside"], guessed["outside"], *guessed["pressure"]]
    assert len(set(used)) == len(used)
