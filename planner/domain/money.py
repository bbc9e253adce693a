"""Money: an exact amount in one currency, rounded once and by a named rule."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from enum import StrEnum

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _

_CODE = re.compile(r"[A-Z]{3}")
# ISO 4217 minor units other than two; from memory.
_MINOR_DIGITS = {
    **dict.fromkeys(("CLP", "ISK", "JPY", "KRW", "PYG", "UGX", "VND", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
}


class Rounding(StrEnum):
    """How an amount is brought to the currency's smallest unit."""

    HALF_UP = "half up"
    HALF_EVEN = "half even"


_MODES = {Rounding.HALF_UP: ROUND_HALF_UP, Rounding.HALF_EVEN: ROUND_HALF_EVEN}


def smallest_unit(currency: str) -> Decimal:
    """The smallest amount that the currency can pay, such as 0.01 [the currency]."""
    return Decimal(1).scaleb(-_MINOR_DIGITS.get(currency, 2))


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in a currency (ISO 4217 code); sums are exact and two currencies never add."""

    amount: Decimal
    currency: str

    def __post_init__(self) -> None:
        # A float would carry a binary fraction into the books.
        if not isinstance(self.amount, Decimal) or not self.amount.is_finite():
            raise InvalidValueError(
                _("an amount of money must be a finite Decimal, not {amount:quoted}", amount=self.amount)
            )
        if not _CODE.fullmatch(self.currency):
            raise InvalidValueError(
                _("a currency is three capital letters, not {currency:quoted}", currency=self.currency)
            )

    def __add__(self, other: "Money") -> "Money":
        return Money(self.amount + self._same(other).amount, self.currency)

    def __sub__(self, other: "Money") -> "Money":
        return Money(self.amount - self._same(other).amount, self.currency)

    def __neg__(self) -> "Money":
        return Money(-self.amount, self.currency)

    def __mul__(self, factor: Decimal | int) -> "Money":
        return Money(self.amount * factor, self.currency)

    __rmul__ = __mul__

    def __truediv__(self, divisor: Decimal | int) -> "Money":
        return Money(self.amount / divisor, self.currency)

    def __lt__(self, other: "Money") -> bool:
        return self.amount < self._same(other).amount

    def __le__(self, other: "Money") -> bool:
        return self.amount <= self._same(other).amount

    def __str__(self) -> str:
        return f"{self.currency} {self.amount:,f}"

    def rounded(self, rounding: Rounding = Rounding.HALF_UP) -> "Money":
        """The amount in whole smallest units of its currency; the only place where money is rounded."""
        unit = smallest_unit(self.currency)
        return Money(self.amount.quantize(unit, rounding=_MODES[rounding]), self.currency)

    def _same(self, other: "Money") -> "Money":
        if other.currency != self.currency:
            raise InvalidValueError(
                _(
                    "{currency} and {other_currency} do not add; convert one at a dated exchange rate first",
                    currency=self.currency,
                    other_currency=other.currency,
                )
            )
        return other


def money_sum(amounts: Iterable[Money], currency: str) -> Money:
    """The exact sum of amounts that all are in `currency`; zero where there are none."""
    return sum(amounts, Money(Decimal(0), currency))


def minor_units(money: Money) -> int:
    """A rounded amount in whole smallest units, such as cents; InvalidValueError where it is not whole."""
    units = money.amount / smallest_unit(money.currency)
    if units != units.to_integral_value():
        raise InvalidValueError(
            _("{money} is not a whole number of the smallest units; round it first", money=money)
        )
    return int(units)


def money_of_minor_units(units: int, currency: str) -> Money:
    """So many of the currency's smallest units, such as cents, as money."""
    return Money(units * smallest_unit(currency), currency)
