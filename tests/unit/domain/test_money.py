"""Money adds exactly, refuses to mix currencies, and rounds once."""

from decimal import Decimal

import pytest

from planner.domain.errors import InvalidValueError
from planner.domain.money import Money, Rounding, money_sum


def aud(amount: str) -> Money:
    return Money(Decimal(amount), "AUD")


def test_a_sum_is_exact() -> None:
    assert money_sum([aud("0.10"), aud("0.20")], "AUD") == aud("0.30")


def test_no_amounts_sum_to_zero() -> None:
    assert money_sum([], "AUD") == aud("0")


@pytest.mark.parametrize("operation", ["__add__", "__sub__", "__lt__", "__le__"])
def test_two_currencies_never_meet(operation: str) -> None:
    with pytest.raises(InvalidValueError, match="AUD and USD do not add"):
        getattr(aud("1"), operation)(Money(Decimal(1), "USD"))


@pytest.mark.parametrize(
    ("rounding", "amount", "expected"),
    [
        (Rounding.HALF_UP, "2.345", "2.35"),
        (Rounding.HALF_EVEN, "2.345", "2.34"),
        (Rounding.HALF_UP, "-2.345", "-2.35"),
        (Rounding.HALF_EVEN, "2.355", "2.36"),
    ],
)
def test_rounding_follows_its_name(rounding: Rounding, amount: str, expected: str) -> None:
    assert aud(amount).rounded(rounding) == aud(expected)


@pytest.mark.parametrize(("currency", "expected"), [("CLP", "1235"), ("KWD", "1234.568"), ("USD", "1234.57")])
def test_each_currency_has_its_own_smallest_unit(currency: str, expected: str) -> None:
    assert Money(Decimal("1234.5678"), currency).rounded() == Money(Decimal(expected), currency)


@pytest.mark.parametrize("amount", [1.5, Decimal("NaN"), Decimal("Infinity"), "3"])
def test_an_amount_is_a_finite_decimal(amount: object) -> None:
    with pytest.raises(InvalidValueError, match="finite Decimal"):
        Money(amount, "AUD")  # type: ignore[arg-type]


@pytest.mark.parametrize("currency", ["aud", "AU", "", "AUDX", "A$D"])
def test_a_currency_is_three_capitals(currency: str) -> None:
    with pytest.raises(InvalidValueError, match="three capital letters"):
        Money(Decimal(1), currency)


def test_money_multiplies_and_divides_without_rounding() -> None:
    assert aud("10") * Decimal("0.125") / 2 == aud("0.625")
    assert 3 * aud("1.5") == -aud("-4.5")
