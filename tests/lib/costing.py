"""A small rate book and a small repair whose totals are worked out by hand in the tests."""

from datetime import date
from decimal import Decimal

from planner.costing.comparison import Comparison, Terms
from planner.costing.lines import CostKind
from planner.costing.options import OptionKind, TyreOption
from planner.costing.rates import DatedPrice, DatedRate, RateBook
from planner.costing.sheet import BAY_HOUR, DISPOSAL, ENERGY, INSPECTION, TRIP
from planner.costing.work import HeaterSetUse, MaterialUse, RepairWork, StageLabour
from planner.domain.money import Money

START = date(2026, 7, 1)
DAY = date(2026, 11, 25)


def aud(amount: str | int) -> Money:
    """An amount in the test site's currency."""
    return Money(Decimal(amount), "AUD")


def price(
    kind: CostKind,
    item: str,
    unit: str,
    amount: str,
    *,
    loading: Decimal = Decimal(0),
    overtime_factor: Decimal = Decimal(1),
) -> DatedPrice:
    """A price from the start of the books."""
    return DatedPrice(
        kind=kind,
        item=item,
        unit=unit,
        price=aud(amount),
        effective_from=START,
        source="price list",
        loading=loading,
        overtime_factor=overtime_factor,
    )


def rate(name: str, value: str, since: date = START) -> DatedRate:
    """A tax or exchange rate."""
    return DatedRate(name=name, rate=Decimal(value), effective_from=since, source="the accountant")


PRICES = (
    price(CostKind.LABOUR, "fitter", "h", "40", loading=Decimal("0.25"), overtime_factor=Decimal("1.5")),
    price(CostKind.MATERIAL, "cushion", "kg", "18.35"),
    price(CostKind.ENERGY, ENERGY, "kWh", "0.31"),
    price(CostKind.HEATER_SET, "H1", "h", "12.5"),
    price(CostKind.BAY, BAY_HOUR, "h", "9"),
    price(CostKind.TRANSPORT, TRIP, "trip", "150"),
    price(CostKind.INSPECTION, INSPECTION, "inspection", "85"),
    price(CostKind.DISPOSAL, DISPOSAL, "tyre", "900"),
)


def book(*more: DatedPrice, **terms: object) -> RateBook:
    """The test site's rate book, with more prices or other terms."""
    return RateBook(currency="AUD", prices=(*PRICES, *more), **terms)  # type: ignore[arg-type]


def planned_work() -> RepairWork:
    """A repair of 10 h by a fitter, 2 h of them in overtime, and what goes with it."""
    return RepairWork(
        labour=(
            StageLabour(stage="skive", grade="fitter", minutes=Decimal(600), overtime_minutes=Decimal(120)),
        ),
        materials=(MaterialUse(material="cushion", quantity=Decimal("12.5")),),
        energy_kwh=Decimal(60),
        heater_sets=(HeaterSetUse(heater_set="H1", minutes=Decimal(400)),),
        bay_minutes=Decimal(1000),
        trips=Decimal(2),
        inspections=Decimal(1),
        rework=Decimal("0.05"),
        failure=Decimal("0.1"),
    )


def option(kind: OptionKind, outlay: str, hours: str, **changes: Decimal | Money) -> TyreOption:
    """An option with nothing but an outlay and a life, unless changed."""
    terms: dict[str, Decimal | Money] = {
        "failure": Decimal(0),
        "if_fails": aud(0),
        "salvage": aud(0),
        "upkeep": aud(0),
        "wait_hours": Decimal(0),
    }
    terms |= changes
    return TyreOption(kind=kind, outlay=aud(outlay), hours=Decimal(hours), **terms)  # type: ignore[arg-type]


def comparison(repair: TyreOption, new: TyreOption, *others: TyreOption, interest: str = "0") -> Comparison:
    """A comparison at 5,000 running hours a year."""
    terms = Terms(hours_a_year=Decimal(5000), discount_rate=Decimal(interest), waiting_cost=aud(100))
    return Comparison(terms=terms, options=(repair, new, *others))
