"""The ways to get a machine its tyre: repair it, buy new, retread or send it out."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.costing.lines import CostKind, CostSheet
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money
from planner.domain.sentences import _


class OptionKind(StrEnum):
    """What can be done about a damaged tyre."""

    REPAIR = "repair now"
    NEW = "buy new"
    RETREAD = "retread"
    SEND_OUT = "send out"


@dataclass(frozen=True, slots=True, kw_only=True)
class TyreOption:
    """One way, in expected figures.

    `outlay` is paid now; `hours` is the mean running life where it succeeds [h]; `failure` is the odds that
    it gains nothing, at the further cost `if_fails`; `salvage` is what the casing is worth at the end of
    `hours`; `upkeep` is paid each year of running [a year]; `wait_hours` is how long the machine stands for
    it [h].
    """

    kind: OptionKind
    outlay: Money
    hours: Decimal
    failure: Decimal
    if_fails: Money
    salvage: Money
    upkeep: Money
    wait_hours: Decimal

    def __post_init__(self) -> None:
        if self.hours <= 0:
            raise InvalidValueError(_("{kind} needs a remaining life of more than 0 hours", kind=self.kind))
        if not 0 <= self.failure < 1:
            raise InvalidValueError(
                _("the odds that {kind} fails must be from 0 to less than 1", kind=self.kind)
            )
        if self.wait_hours < 0 or self.outlay.amount < 0:
            raise InvalidValueError(
                _("the outlay and the wait of {kind} must not be negative", kind=self.kind)
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPosition:
    """Fit tyres of the size: on hand, already promised to a machine, and how long a new one takes [h]."""

    on_hand: int
    promised: int
    lead_time_hours: Decimal

    @property
    def free(self) -> int:
        """How many can go on a machine today."""
        return max(self.on_hand - self.promised, 0)

    def wait_hours(self, ready_in_hours: Decimal) -> Decimal:
        """How long the machine stands for a tyre ready in so many hours: not at all with a spare [h]."""
        return Decimal(0) if self.free else ready_in_hours


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlay:
    """What a repair costs for sure, and what more if the tyre is lost; the odds are kept apart."""

    spent: Money
    if_fails: Money


def repair_outlay(sheet: CostSheet) -> Outlay:
    """The sheet without its disposal at odds, which the comparison counts with its own odds of failure."""
    kinds = frozenset(CostKind) - {CostKind.DISPOSAL}
    disposal = sheet.of(CostKind.DISPOSAL)
    nothing = Money(Decimal(0), sheet.currency)
    return Outlay(spent=sheet.subtotal(kinds), if_fails=disposal[0].price if disposal else nothing)
