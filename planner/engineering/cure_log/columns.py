"""Which column of a logger's table is what: remembered for each logger."""

from dataclasses import dataclass
from enum import StrEnum
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure_log.units import PressureUnit, TemperatureUnit


class TimeKind(StrEnum):
    """How a logger writes time."""

    CLOCK = "clock"
    ELAPSED_MINUTES = "elapsed_minutes"
    ELAPSED_SECONDS = "elapsed_seconds"


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnMap:
    """Names of columns and their units.

    Args:
        time: column of the time.
        date: column of the date, where the time's own column has none.
        inside: column of the inside pad's temperature.
        outside: column of the outside pad's temperature.
        pressure: columns of the bags' pressures; the lowest counts.
        time_kind: clock or elapsed.
        time_zone: IANA zone of a logger's clock, where known.
        temperature_unit: of both pads.
        pressure_unit: of all pressures.

    """

    time: str
    inside: str
    outside: str
    pressure: tuple[str, ...] = ()
    date: str | None = None
    time_kind: TimeKind = TimeKind.CLOCK
    time_zone: str | None = None
    temperature_unit: TemperatureUnit = TemperatureUnit.CELSIUS
    pressure_unit: PressureUnit = PressureUnit.KPA

    def __post_init__(self) -> None:
        if len(set(self.names)) != len(self.names):
            raise InvalidValueError(_("a column can serve only once: each needs a name of its own"))
        if self.time_zone is not None:
            try:
                ZoneInfo(self.time_zone)
            except (ZoneInfoNotFoundError, ValueError) as error:
                raise InvalidValueError(
                    _("{time_zone:quoted} is not a known time zone", time_zone=self.time_zone)
                ) from error

    @property
    def names(self) -> tuple[str, ...]:
        """All columns it needs."""
        date = (self.date,) if self.date else ()
        return (self.time, *date, self.inside, self.outside, *self.pressure)
