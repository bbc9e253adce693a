"""The cost sheet of a repair, to the cent."""

from datetime import date
from decimal import Decimal

import pytest

from planner.costing.lines import CostKind, CostLine, CostSheet
from planner.costing.sheet import cost_sheet
from planner.costing.work import RepairWork, StageLabour
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money, Rounding
from tests.lib.costing import DAY, aud, book, planned_work, price, rate


def test_every_line_of_a_whole_repair() -> None:
    sheet = cost_sheet(planned_work(), book(), DAY)
    amounts = {line.kind: line.amount for line in sheet.lines}
    assert amounts == {
        CostKind.LABOUR: aud("500"),  # 600 min at 40 × 1.25 = 50 an hour
        CostKind.OVERTIME: aud("50"),  # 120 min at 50 × 0.5
        CostKind.MATERIAL: aud("229.38"),  # 12.5 × 18.35 = 229.375
        CostKind.ENERGY: aud("18.60"),  # 60 × 0.31
        CostKind.HEATER_SET: aud("83.33"),  # 400 / 60 × 12.5 = 83.333…
        CostKind.BAY: aud("150"),  # 1000 / 60 × 9
        CostKind.TRANSPORT: aud("300"),
        CostKind.INSPECTION: aud("85"),
        CostKind.REWORK: aud("51.57"),  # 0.05 × (500 + 50 + 229.38 + 18.60 + 83.33 + 150 = 1031.31) = 51.5655
        CostKind.DISPOSAL: aud("90"),  # 0.1 × 900
    }
    assert sheet.total == aud("1557.88")


def test_a_half_cent_is_not_lost_to_thirds_of_an_hour() -> None:
    # 20 min at 30.015 an hour is 10.005 exactly; a third of an hour written in decimals would give 10.00.
    work = RepairWork(labour=(StageLabour(stage="fill", grade="builder", minutes=Decimal(20)),))
    sheet = cost_sheet(work, book(price(CostKind.LABOUR, "builder", "h", "30.015")), DAY)
    assert sheet.total == aud("10.01")


def test_rounding_is_the_books() -> None:
    work = RepairWork(labour=(StageLabour(stage="fill", grade="builder", minutes=Decimal(20)),))
    builder = price(CostKind.LABOUR, "builder", "h", "30.015")
    assert cost_sheet(work, book(builder, rounding=Rounding.HALF_EVEN), DAY).total == aud("10.00")


def test_tax_is_on_the_taxed_kinds_and_is_not_reworked() -> None:
    taxed = book(tax=(rate("goods tax", "0.10"),), taxed=frozenset({CostKind.MATERIAL, CostKind.TRANSPORT}))
    sheet = cost_sheet(planned_work(), taxed, DAY)
    assert sheet.subtotal(frozenset({CostKind.TAX})) == aud("52.94")  # 0.1 × (229.38 + 300) = 52.938
    assert sheet.total == aud("1610.82")


def test_tax_before_its_first_day_is_none() -> None:
    later = book(tax=(rate("goods tax", "0.10", date(2027, 1, 1)),), taxed=frozenset({CostKind.MATERIAL}))
    assert cost_sheet(planned_work(), later, DAY).of(CostKind.TAX) == ()


def test_a_foreign_price_is_converted_at_the_days_rate_and_rounded_once() -> None:
    foreign = price(CostKind.MATERIAL, "cement", "l", "1")
    foreign = type(foreign)(
        kind=CostKind.MATERIAL,
        item="cement",
        unit="l",
        price=Money(Decimal("7.77"), "USD"),
        effective_from=date(2026, 1, 1),
        source="supplier",
    )
    rates = (rate("USD", "1.4"), rate("USD", "1.515", date(2026, 11, 1)), rate("USD", "9", date(2026, 12, 1)))
    found = book(foreign, exchange=rates).price_on(CostKind.MATERIAL, "cement", DAY)
    assert found.price == aud("11.77155")  # 7.77 × 1.515, unrounded
    assert [given.label for given in found.givens] == ["listed price", "exchange rate"]


def test_the_figure_opens_and_adds_up_at_every_level() -> None:
    figure = cost_sheet(planned_work(), book(), DAY).figure("estimate")
    assert figure.amount == aud("1557.88")
    sums = [node for _, node in figure.walk() if node.parts]
    assert len(sums) == 11  # the total and ten kinds
    for node in sums:
        assert node.amount.amount == sum(part.amount.amount for part in node.parts)
    line = figure.parts[0].parts[0]
    assert {given.label: given.value for given in line.givens} == {
        "quantity": 600,
        "price": 50,
        "listed price": 40,
        "loading": Decimal("0.25"),
    }


@pytest.mark.parametrize(
    ("grade", "day", "message"),
    [
        ("welder", DAY, "no price of labour welder holds on 2026-11-25"),
        ("fitter", date(2026, 6, 30), "no price of labour fitter holds on 2026-06-30"),
    ],
)
def test_a_missing_price_is_named(grade: str, day: date, message: str) -> None:
    work = RepairWork(labour=(StageLabour(stage="skive", grade=grade, minutes=Decimal(1)),))
    with pytest.raises(InvalidValueError, match=message):
        cost_sheet(work, book(), day)


def test_a_missing_exchange_rate_is_named() -> None:
    with pytest.raises(InvalidValueError, match="no exchange rate of USD to AUD holds on"):
        book().converted(Money(Decimal(1), "USD"), DAY)


def test_a_line_stands_once() -> None:
    line = CostLine(kind=CostKind.ENERGY, item="electricity", quantity=Decimal(1), unit="kWh", price=aud(1))
    with pytest.raises(InvalidValueError, match="energy electricity stands on the sheet twice"):
        CostSheet(currency="AUD", lines=(line, line))


@pytest.mark.parametrize("odds", ["-0.1", "1.1"])
def test_odds_are_from_0_to_1(odds: str) -> None:
    with pytest.raises(InvalidValueError, match="the odds of failure must be from 0 to 1"):
        RepairWork(failure=Decimal(odds))


def test_overtime_is_part_of_the_minutes() -> None:
    with pytest.raises(InvalidValueError, match="overtime on skive"):
        StageLabour(stage="skive", grade="fitter", minutes=Decimal(10), overtime_minutes=Decimal(11))


def test_two_taxes_are_two_lines() -> None:
    taxes = (
        rate("levy", "0.01"),
        rate("purchase tax", "0.1"),
        rate("purchase tax", "0.2", date(2026, 12, 1)),
    )
    sheet = cost_sheet(planned_work(), book(tax=taxes, taxed=frozenset({CostKind.TRANSPORT})), DAY)
    # Of 300 for transport; the second rate of the purchase tax begins later.
    assert {line.item: line.amount for line in sheet.of(CostKind.TAX)} == {
        "levy": aud("3.00"),
        "purchase tax": aud("30.00"),
    }
