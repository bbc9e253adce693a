"""Figures that open: an amount with its formula, the figures it is made of and the values put in."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from planner.domain.money import Money, money_sum


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """A value put in, with its unit and where it comes from."""

    label: str
    value: Decimal
    unit: str
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """An amount of money and what it was worked out from."""

    label: str
    amount: Money
    formula: str
    parts: tuple["Figure", ...] = ()
    givens: tuple[Given, ...] = ()

    def walk(self, depth: int = 0) -> Iterator[tuple[int, "Figure"]]:
        """The figure and all below it, from the top down, each with its depth."""
        yield depth, self
        for part in self.parts:
            yield from part.walk(depth + 1)


def figure_sum(label: str, parts: tuple[Figure, ...], currency: str) -> Figure:
    """A figure that is the exact sum of its parts, so it adds up to the cent where they are rounded."""
    total = money_sum((part.amount for part in parts), currency)
    return Figure(label=label, amount=total, formula="sum of the lines below", parts=parts)
