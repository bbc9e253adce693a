"""Units against figures of the trade and of published conversion."""

import doctest

import pytest

from planner.domain import units
from planner.domain.errors import InvalidValueError
from planner.domain.units import celsius_of, kilopascal_of, pressure_in, temperature_in


@pytest.mark.parametrize(
    ("celsius", "fahrenheit"),
    # The fixed points of both scales; 120 and 140 °C are the trade's start and hold (common practice).
    [(0, 32), (100, 212), (-40, -40), (120, 248), (140, 284)],
)
def test_temperatures_there_and_back(celsius: float, fahrenheit: float) -> None:
    assert temperature_in(celsius, "°F") == pytest.approx(fahrenheit)
    assert celsius_of(fahrenheit, "°F") == pytest.approx(celsius)


@pytest.mark.parametrize(
    ("kilopascal", "value", "unit"),
    # 30 psi is the trade's bag pressure; NIST SP 811 appendix B.8: 1 psi = 6.894757 kPa, 1 bar = 100 kPa.
    [(206.84271, 30, "psi"), (210, 2.1, "bar"), (101.325, 14.695949, "psi"), (5, 5, "kPa")],
)
def test_pressures_there_and_back(kilopascal: float, value: float, unit: str) -> None:
    assert pressure_in(kilopascal, unit) == pytest.approx(value)
    assert kilopascal_of(value, unit) == pytest.approx(kilopascal)


def test_a_unit_that_nobody_reads_is_refused_by_name() -> None:
    with pytest.raises(InvalidValueError, match="'K' is none of °C, °F"):
        temperature_in(1, "K")
    with pytest.raises(InvalidValueError, match="'atm' is none of kPa, psi, bar"):
        kilopascal_of(1, "atm")


def test_the_examples_hold() -> None:
    assert doctest.testmod(units).failed == 0
