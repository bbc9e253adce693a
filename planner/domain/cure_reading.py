"""One reading of a cure as it stands on the gauges."""

from dataclasses import dataclass

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.domain.units import PRESSURE_UNITS, TEMPERATURE_UNITS


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeReading:
    """Both pads and the bags at one time, in the units of the gauges; None where one was not read.

    Args:
        inside: inside pad [°C or °F].
        outside: outside pad [°C or °F].
        pressure: the lower bag [kPa, psi or bar].
        temperature_unit: `°C` or `°F`.
        pressure_unit: `kPa`, `psi` or `bar`.

    >>> str(GaugeReading(inside=248, outside=247.5, pressure=30, temperature_unit="°F", pressure_unit="psi"))
    'inside 248 °F, outside 247.5 °F, bags 30 psi'

    """

    inside: float | None = None
    outside: float | None = None
    pressure: float | None = None
    temperature_unit: str = "°C"
    pressure_unit: str = "kPa"

    def __post_init__(self) -> None:
        if self.temperature_unit not in TEMPERATURE_UNITS:
            raise InvalidValueError(
                _(
                    "temperatures are read in °C or °F, not {temperature_unit:quoted}",
                    temperature_unit=self.temperature_unit,
                )
            )
        if self.pressure_unit not in PRESSURE_UNITS:
            raise InvalidValueError(
                _(
                    "pressures are read in kPa, psi or bar, not {pressure_unit:quoted}",
                    pressure_unit=self.pressure_unit,
                )
            )
        if self.inside is None and self.outside is None and self.pressure is None:
            raise InvalidValueError(_("a reading needs a pad's temperature or the bags' pressure"))

    def __str__(self) -> str:
        told = (
            ("inside", self.inside, self.temperature_unit),
            ("outside", self.outside, self.temperature_unit),
            ("bags", self.pressure, self.pressure_unit),
        )
        return ", ".join(f"{name} {value:g} {unit}" for name, value, unit in told if value is not None)
