"""A first guess at a logger's columns by names and first readings; a person looks before anything is read."""

import math
import re
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from planner.engineering.cure_log.columns import ColumnMap, TimeKind
from planner.engineering.cure_log.read import Row
from planner.engineering.cure_log.times import number
from planner.engineering.cure_log.units import PressureUnit, TemperatureUnit
from planner.models import Site

MOST_BAGS = 2
NAMES = {
    "time": r"time|clock|elapsed|minute|second|\bmin\b|\bsec\b|stamp",
    "date": r"\bdate\b|\bday\b",
    "inside": r"inside|inner|\bin\b|\bi/s\b",
    "outside": r"outside|outer|\bout\b|\bo/s\b",
    "pressure": r"press|bag|psi|kpa|\bbar\b",
}
FAHRENHEIT = re.compile(r"°?\bf\b|fahrenheit", re.IGNORECASE)
SECONDS = re.compile(r"sec|\bs\b", re.IGNORECASE)


def columns_guessed(rows: Sequence[Row], *, site: Site) -> dict[str, Any]:
    """Columns and units as they are kept; every column serves once.

    A clock is taken to be the site's, which a person may change.
    """
    names = list(rows[0])
    time = _named("time", names) or _named("date", names)
    date = _named("date", [name for name in names if name != time])
    left = [name for name in names if name not in (date, time)]
    inside, outside = _named("inside", left), _named("outside", left)
    bags = [name for name in left if name not in (inside, outside) and _is("pressure", name)][:MOST_BAGS]
    spare = iter([name for name in names if name not in (date, time, inside, outside, *bags)])
    time, inside, outside = (each or next(spare, "") for each in (time, inside, outside))
    kind = _time_kind(time, rows[0].get(time))
    clock = kind is TimeKind.CLOCK
    return {
        **_BLANK,
        "time": time,
        "date": date if clock else None,
        "time_kind": kind.value,
        "time_zone": site.time_zone if clock else None,
        "inside": inside,
        "outside": outside,
        "pressure": bags,
        "temperature_unit": _temperature_unit(inside).value,
        "pressure_unit": _pressure_unit(bags).value,
    }


_BLANK = asdict(ColumnMap(time="time", inside="inside", outside="outside"))


def _named(what: str, names: Sequence[str]) -> str | None:
    return next((name for name in names if _is(what, name)), None)


def _is(what: str, name: str) -> bool:
    return re.search(NAMES[what], name.replace("_", " "), re.IGNORECASE) is not None


def _time_kind(name: str, first: Any) -> TimeKind:
    """A count of minutes or seconds where the first reading is one, or where the name says elapsed."""
    counted = math.isfinite(number(first)) and number(first) < 20_000
    if not counted and "elapsed" not in name.lower():
        return TimeKind.CLOCK
    return TimeKind.ELAPSED_SECONDS if SECONDS.search(name) else TimeKind.ELAPSED_MINUTES


def _temperature_unit(name: str) -> TemperatureUnit:
    words = name.replace("_", " ").replace("°", " ")
    return TemperatureUnit.FAHRENHEIT if FAHRENHEIT.search(words) else TemperatureUnit.CELSIUS


def _pressure_unit(names: Sequence[str]) -> PressureUnit:
    words = " ".join(names).lower().replace("_", " ")
    return next((unit for unit in PressureUnit if re.search(rf"\b{unit.value}", words)), PressureUnit.KPA)
