"""Cost lines: a quantity at a price, rounded once, and the sheet that adds them."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.costing.figures import Figure, Given, figure_sum
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money, Rounding, money_sum
from planner.domain.sentences import _


class CostKind(StrEnum):
    """What a cost line pays for, in the order of a cost sheet."""

    LABOUR = "labour"
    OVERTIME = "overtime premium"
    MATERIAL = "materials"
    ENERGY = "energy"
    HEATER_SET = "heater set"
    BAY = "bay overhead"
    TRANSPORT = "transport"
    INSPECTION = "inspection"
    TAX = "tax"
    REWORK = "rework"
    DISPOSAL = "disposal"


@dataclass(frozen=True, slots=True, kw_only=True)
class CostLine:
    """`quantity` ÷ `per` × `price`; minutes at a price per hour have `per` 60, so that no third is lost."""

    kind: CostKind
    item: str
    quantity: Decimal
    unit: str
    price: Money
    per: int = 1
    givens: tuple[Given, ...] = ()
    rounding: Rounding = Rounding.HALF_UP

    def __post_init__(self) -> None:
        if self.quantity < 0:
            raise InvalidValueError(
                _("the quantity of {kind} {item} must not be negative", kind=self.kind, item=self.item)
            )

    @property
    def key(self) -> tuple[CostKind, str]:
        """What makes it the same line on another sheet."""
        return self.kind, self.item

    @property
    def group(self) -> tuple[CostKind, str]:
        """What lines that stand in for each other share: a stage of any grade, any set; else its item."""
        if self.kind in {CostKind.LABOUR, CostKind.OVERTIME}:
            return self.kind, self.item.rpartition(", ")[0] or self.item
        return self.kind, "any set" if self.kind is CostKind.HEATER_SET else self.item

    @property
    def amount(self) -> Money:
        """What it costs, in whole smallest units."""
        return (self.price * self.quantity / self.per).rounded(self.rounding)

    def figure(self) -> Figure:
        """The line as a figure that opens to its quantity, its price and what they came from."""
        quantity = Given(label="quantity", value=self.quantity, unit=self.unit)
        price = Given(
            label="price", value=self.price.amount, unit=f"{self.price.currency} {self._price_unit}"
        )
        divisor = f" ÷ {self.per}" if self.per != 1 else ""
        return Figure(
            label=self.item,
            amount=self.amount,
            formula=f"quantity{divisor} × price, rounded {self.rounding}",
            givens=(quantity, price, *self.givens),
        )

    @property
    def _price_unit(self) -> str:
        return "per h" if self.per == 60 else f"per {self.unit}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CostSheet:
    """All lines of one repair, estimated or actual, in one currency."""

    currency: str
    lines: tuple[CostLine, ...]

    def __post_init__(self) -> None:
        keys = [line.key for line in self.lines]
        twice = next((key for key in keys if keys.count(key) > 1), None)
        if twice is not None:
            raise InvalidValueError(
                _("{kind} {item} stands on the sheet twice", kind=twice[0], item=twice[1])
            )

    @property
    def total(self) -> Money:
        """The sum of the rounded lines."""
        return self.subtotal(frozenset(CostKind))

    def of(self, kind: CostKind) -> tuple[CostLine, ...]:
        """The lines of one kind."""
        return tuple(line for line in self.lines if line.kind is kind)

    def subtotal(self, kinds: frozenset[CostKind]) -> Money:
        """The sum of the rounded lines of some kinds."""
        return money_sum((line.amount for line in self.lines if line.kind in kinds), self.currency)

    def figure(self, label: str) -> Figure:
        """The whole sheet as a figure: the total, each kind, each line."""
        kinds = (
            figure_sum(kind, tuple(line.figure() for line in self.of(kind)), self.currency)
            for kind in CostKind
            if self.of(kind)
        )
        return figure_sum(label, tuple(kinds), self.currency)
