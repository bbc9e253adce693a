"""Actual less estimate, by cause, to the cent."""

from dataclasses import replace
from decimal import Decimal
from random import Random

import pytest

from planner.costing.lines import CostKind, CostLine, CostSheet
from planner.costing.sheet import cost_sheet
from planner.costing.variance import NOT_PLANNED, variance_by_cause, variances
from planner.costing.work import MaterialUse, StageLabour
from planner.domain.errors import InvalidValueError
from planner.domain.money import money_sum
from tests.lib.costing import DAY, aud, book, planned_work, price


def line(quantity: str, amount: str, kind: CostKind = CostKind.MATERIAL, item: str = "gum") -> CostLine:
    return CostLine(kind=kind, item=item, quantity=Decimal(quantity), unit="kg", price=aud(amount))


def sheet(*lines: CostLine) -> CostSheet:
    return CostSheet(currency="AUD", lines=lines)


def test_usage_and_price_of_a_material() -> None:
    # 10 kg at 18 planned, 12 kg at 19 used: usage 2 × 18 = 36, price 12 × 1 = 12.
    parts = variances(sheet(line("10", "18")), sheet(line("12", "19")))
    assert {part.cause: part.amount for part in parts} == {"usage": aud(36), "price": aud(12)}


def test_a_line_without_difference_has_no_variance() -> None:
    assert variances(sheet(line("10", "18")), sheet(line("10", "18"))) == ()


def test_a_line_only_recorded_was_not_planned_and_a_line_only_planned_was_not_used() -> None:
    parts = variances(sheet(line("1", "5")), sheet(line("2", "7", item="cord")))
    assert [(part.item, part.cause, part.amount) for part in parts] == [
        ("gum", "usage", aud(-5)),
        ("cord", NOT_PLANNED, aud(14)),
    ]


def test_causes_of_a_whole_repair_add_up_to_the_difference() -> None:
    planned = planned_work()
    recorded = replace(
        planned,
        labour=(
            StageLabour(stage="skive", grade="fitter", minutes=Decimal(667), overtime_minutes=Decimal(67)),
            StageLabour(stage="buff", grade="fitter", minutes=Decimal(31)),
        ),
        materials=(MaterialUse(material="cushion", quantity=Decimal("13.7")),),
        energy_kwh=Decimal("71.3"),
        rework=Decimal(0),
        failure=Decimal(1),
    )
    dearer = price(CostKind.ENERGY, "electricity", "kWh", "0.335")
    estimate = cost_sheet(planned, book(), DAY)
    prices = (dearer, *(each for each in book().prices if each.kind is not CostKind.ENERGY))
    actual = cost_sheet(recorded, replace(book(), prices=prices), DAY)
    parts = variances(estimate, actual)
    by_cause = variance_by_cause(parts, "AUD")
    assert money_sum(by_cause.values(), "AUD") == actual.total - estimate.total
    assert by_cause["efficiency"] == aud("55.83")  # 67 min more at 50 an hour
    assert by_cause[NOT_PLANNED] == aud("25.83")  # 31 min of buffing at 50 an hour
    assert by_cause["outcome"] == aud("758.43")  # disposal 900 − 90, rework − 51.57
    assert by_cause["overtime"] == aud("-22.08")  # 53 min less at 25 an hour


def test_random_sheets_always_add_up() -> None:
    random = Random(7)
    for _ in range(300):
        estimate, actual = _random_sheet(random), _random_sheet(random)
        parts = variances(estimate, actual)
        assert money_sum((part.amount for part in parts), "AUD") == actual.total - estimate.total


def _random_sheet(random: Random) -> CostSheet:
    kinds = random.sample(list(CostKind), random.randint(1, 8))
    return sheet(
        *(line(f"{random.uniform(0, 99):.3f}", f"{random.uniform(0, 99):.4f}", kind) for kind in kinds)
    )


def test_two_currencies_have_no_variance() -> None:
    with pytest.raises(InvalidValueError, match="has no variance in USD"):
        variances(sheet(), CostSheet(currency="USD", lines=()))


def worked(minutes: str, item: str, rate: str, kind: CostKind = CostKind.LABOUR) -> CostLine:
    return CostLine(kind=kind, item=item, quantity=Decimal(minutes), unit="min", price=aud(rate), per=60)


def test_another_grade_on_a_stage_is_its_mix() -> None:
    # 120 min of a tradesman at 50 planned; 90 min of a leading hand at 60 and 60 min of an apprentice at 30.
    planned = sheet(worked("120", "skive, trade", "50"))
    done = sheet(worked("90", "skive, lead", "60"), worked("60", "skive, apprentice", "30"))
    # 30 min more at the planned 50: 25; what is left of 120 − 100 is what the other grades cost: −5.
    found = {part.cause: (part.item, part.amount) for part in variances(planned, done)}
    assert found == {"efficiency": ("skive", aud(25)), "mix": ("skive", aud(-5))}


def test_another_set_is_a_mix_too() -> None:
    one, two = (worked("60", name, rate, CostKind.HEATER_SET) for name, rate in (("H1", "9"), ("H2", "12")))
    assert [(part.cause, part.amount) for part in variances(sheet(one), sheet(two))] == [("mix", aud(3))]
