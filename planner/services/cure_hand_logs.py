"""A log made of readings that people took from the gauges: typed at once, or recorded one by one."""

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure_log.columns import ColumnMap, TimeKind
from planner.engineering.cure_log.log import LEAST_READINGS
from planner.engineering.cure_log.units import PressureUnit, TemperatureUnit
from planner.models import CureLogUpload, CureReading, Damage, HeaterSet, User
from planner.selectors.cure_readings import cure_reading_list
from planner.services.cure_log_uploads import cure_log_upload_add

TYPED_COLUMNS = ColumnMap(
    time="minute", inside="inside", outside="outside", pressure=("pressure",),
    time_kind=TimeKind.ELAPSED_MINUTES,
)  # fmt: skip
TEMPERATURES = {"°C": TemperatureUnit.CELSIUS, "°F": TemperatureUnit.FAHRENHEIT}
PRESSURES = {"kPa": PressureUnit.KPA, "psi": PressureUnit.PSI, "bar": PressureUnit.BAR}
READING_COLUMNS = ColumnMap(time="taken at", inside="inside °C", outside="outside °C", pressure=("bags kPa",))


def cure_readings_upload(
    *,
    user: User,
    damage: Damage,
    readings: str,
    heater_set: HeaterSet | None = None,
    temperature_unit: str = "°C",
    pressure_unit: str = "kPa",
) -> CureLogUpload:
    """Put typed readings aside to look at: a line each of minute, inside pad, outside pad, lower bag.

    Raises InvalidValueError that names the line which has not four numbers.
    """
    lines = ["minute,inside,outside,pressure"]
    for place, line in enumerate(filter(str.strip, readings.splitlines()), start=1):
        cells = re.split(r"[\s;,]+", line.strip())
        if len(cells) != 4 or not all(re.fullmatch(r"-?\d+(\.\d+)?|-", cell) for cell in cells):
            raise InvalidValueError(
                _(
                    "line {place}, {line:quoted}: write minute, inside {temperature_unit}, outside "
                    "{temperature_unit}, pressure {pressure_unit}, such as 30 121 120 207; a reading "
                    "that was missed is -",
                    place=place,
                    line=line.strip(),
                    temperature_unit=temperature_unit,
                    pressure_unit=pressure_unit,
                )
            )
        lines.append(",".join("" if cell == "-" else cell for cell in cells))
    raw = "\n".join(lines).encode()
    return cure_log_upload_add(
        user=user,
        damage=damage,
        raw=raw,
        name="typed readings",
        heater_set=heater_set,
        columns=replace(
            TYPED_COLUMNS,
            temperature_unit=TEMPERATURES[temperature_unit],
            pressure_unit=PRESSURES[pressure_unit],
        ),
        by_hand=True,
    )


def cure_readings_judge(*, user: User, damage: Damage, heater_set: HeaterSet | None = None) -> CureLogUpload:
    """Put the readings that were recorded one by one aside to look at, each with who took it.

    Raises InvalidValueError where there are too few.
    """
    readings = cure_reading_list(user=user, damage=damage)
    if len(readings) < LEAST_READINGS:
        raise InvalidValueError(
            _(
                "{count} readings hold; at least {least_readings} are needed to judge a cure",
                count=len(readings),
                least_readings=LEAST_READINGS,
            )
        )
    return cure_log_upload_add(
        user=user,
        damage=damage,
        raw=_table(readings).encode(),
        name="readings taken by hand",
        heater_set=heater_set,
        columns=READING_COLUMNS,
        by_hand=True,
    )


def _table(readings: Sequence[CureReading]) -> str:
    """The readings as a file of their own: the figures, and who took them when."""
    table = io.StringIO()
    writer = csv.writer(table, lineterminator="\n")
    writer.writerow([*READING_COLUMNS.names, "read by", "recorded at", "as typed", "note"])
    for each in readings:
        figures = (each.inside_c, each.outside_c, each.pressure_kpa)
        told = ["" if figure is None else f"{figure:.2f}" for figure in figures]
        who = (each.recorded_by.get_username(), _utc(each.recorded_at), each.as_typed, each.note)
        writer.writerow([_utc(each.taken_at), *told, *who])
    return table.getvalue()


def _utc(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="seconds")
