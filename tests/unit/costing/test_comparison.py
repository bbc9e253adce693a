"""Repair against new: cost per remaining hour, a year, and where the answer turns."""

from dataclasses import replace
from decimal import Decimal
from random import Random

import pytest

from planner.costing.break_even import break_even
from planner.costing.comparison import Comparison, cost_a_year, cost_an_hour, option_cost, option_figure
from planner.costing.options import OptionKind, StockPosition, TyreOption, repair_outlay
from planner.costing.sheet import cost_sheet
from planner.domain.errors import InvalidValueError
from tests.lib.costing import DAY, aud, book, comparison, option, planned_work

REPAIR, NEW = OptionKind.REPAIR, OptionKind.NEW


def test_half_the_price_for_three_quarters_of_the_life() -> None:
    # 0.5 / 0.75 = 2/3 of the cost per hour of new.
    pair = comparison(option(REPAIR, "5000", "6000"), option(NEW, "10000", "8000"))
    repair, new = (option_cost(each, pair.terms) for each in pair.options)
    assert repair.per_hour.amount / new.per_hour.amount == pytest.approx(Decimal(2) / 3)
    assert [cost.option.kind for cost in pair.costs()] == [REPAIR, NEW]


def test_everything_that_is_paid_counts() -> None:
    repair = option(
        REPAIR,
        "8000",
        "4000",
        failure=Decimal("0.2"),
        if_fails=aud(2000),
        salvage=aud(500),
        upkeep=aud(1000),
        wait_hours=Decimal(10),
    )
    pair = comparison(repair, option(NEW, "10000", "8000"))
    # 8000 + 10 × 100 + 0.2 × 2000 − 0.8 × 500 = 9000, over 0.8 × 4000 = 3200 h, and 1000 / 5000 h of upkeep.
    assert cost_an_hour(repair, pair.terms) == aud("3.0125")
    figure = option_figure(repair, pair.terms)
    assert figure.amount == aud("3.0125")
    assert sum(part.amount.amount for part in figure.parts) == 9000


def test_discounting_follows_the_annuity() -> None:
    # One year of life at 10 %: 1000 × 1.1 − 100 = 1000 at its end.
    one_year = option(REPAIR, "1000", "5000", salvage=aud(100))
    pair = comparison(one_year, option(NEW, "1", "1"), interest="0.1")
    assert cost_a_year(one_year, pair.terms).amount == pytest.approx(Decimal(1000))


def test_a_repair_and_new_are_always_compared() -> None:
    pair = comparison(option(REPAIR, "1", "1"), option(NEW, "1", "1"))
    with pytest.raises(InvalidValueError, match="repair, new and each other option once"):
        replace(pair, options=(option(REPAIR, "1", "1"), option(OptionKind.RETREAD, "1", "1")))
    with pytest.raises(InvalidValueError, match="has no option to retread"):
        pair.option(OptionKind.RETREAD)


def test_a_third_option_can_be_the_cheapest() -> None:
    retread = option(OptionKind.RETREAD, "1000", "5000")
    trio = comparison(option(REPAIR, "5000", "6000"), option(NEW, "10000", "8000"), retread)
    assert trio.costs()[0].option is retread


@pytest.mark.parametrize("interest", ["0", "0.11"])
def test_each_break_even_makes_both_cost_the_same(interest: str) -> None:
    random = Random(11)
    found = 0
    for _ in range(100):
        pair = _random_pair(random, interest)
        turn = break_even(pair)
        repair, new = pair.option(REPAIR), pair.option(NEW)
        turned = (
            (repair, {"hours": turn.hours}),
            (repair, {"outlay": turn.outlay}),
            (repair, {"failure": turn.failure}),
            (new, {"outlay": turn.new_price}),
        )
        for before, change in turned:
            if None not in change.values():
                found += 1
                after = replace(before, **change)
                options = tuple(after if each is before else each for each in pair.options)
                assert replace(pair, options=options).saving_a_year().amount == pytest.approx(0, abs=1e-6)
    assert found > 200


def _random_pair(random: Random, interest: str) -> Comparison:
    def money(low: int, high: int) -> str:
        return str(random.randint(low, high))

    repair = option(
        REPAIR,
        money(2000, 15000),
        money(1000, 6000),
        failure=Decimal(random.randint(0, 30)) / 100,
        if_fails=aud(money(0, 4000)),
        salvage=aud(money(0, 900)),
        upkeep=aud(money(0, 300)),
        wait_hours=Decimal(random.randint(0, 40)),
    )
    new = option(NEW, money(20000, 60000), money(5000, 9000), salvage=aud(money(0, 3000)))
    return comparison(repair, new, interest=interest)


def test_no_turning_point_is_said_to_be_none() -> None:
    # New costs nothing, so no life, price or odds makes the repair as cheap.
    pair = comparison(option(REPAIR, "5000", "6000", wait_hours=Decimal(1)), option(NEW, "0", "8000"))
    turn = break_even(pair)
    assert (turn.hours, turn.outlay, turn.failure) == (None, None, None)


def test_a_spare_means_no_waiting() -> None:
    spare = StockPosition(on_hand=2, promised=1, lead_time_hours=Decimal(900))
    none = StockPosition(on_hand=1, promised=3, lead_time_hours=Decimal(900))
    assert [position.wait_hours(Decimal(48)) for position in (spare, none)] == [0, 48]
    assert (spare.free, none.free) == (1, 0)


def test_a_sheets_disposal_is_counted_once() -> None:
    outlay = repair_outlay(cost_sheet(planned_work(), book(), DAY))
    assert (outlay.spent, outlay.if_fails) == (aud("1467.88"), aud("900"))


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"hours": Decimal(0)}, "remaining life of more than 0"),
        ({"failure": Decimal(1)}, "from 0 to less than 1"),
        ({"wait_hours": Decimal(-1)}, "must not be negative"),
    ],
)
def test_an_option_refuses_what_cannot_be(change: dict[str, Decimal], message: str) -> None:
    sound: TyreOption = option(REPAIR, "1", "1")
    with pytest.raises(InvalidValueError, match=message):
        replace(sound, **change)  # type: ignore[arg-type]
