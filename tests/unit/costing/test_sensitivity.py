"""What moves the answer most."""

from decimal import Decimal

import pytest

from planner.costing.options import OptionKind
from planner.costing.sensitivity import Lever, even_factors, sensitivity
from planner.domain.errors import InvalidValueError
from tests.lib.costing import aud, comparison, option

PAIR = comparison(
    option(OptionKind.REPAIR, "6000", "4000", failure=Decimal("0.1"), wait_hours=Decimal(2)),
    option(OptionKind.NEW, "20000", "8000"),
)


def test_the_widest_swing_comes_first() -> None:
    swings = sensitivity(PAIR, even_factors(Decimal("0.2")))
    widths = [swing.width.amount for swing in swings]
    assert widths == sorted(widths, reverse=True)
    assert {swing.lever for swing in swings} == set(Lever)


def test_a_swing_by_hand() -> None:
    # New at 20000 for 1.6 years is 12500 a year; ± 20 % moves the saving by 5000 in all.
    (swing,) = sensitivity(PAIR, {Lever.NEW_PRICE: (Decimal("0.8"), Decimal("1.2"))})
    assert swing.width.amount == pytest.approx(Decimal(5000))
    assert swing.saving_high.amount - PAIR.saving_a_year().amount == pytest.approx(Decimal(2500))


@pytest.mark.parametrize("lever", list(Lever))
def test_a_lever_at_one_moves_nothing(lever: Lever) -> None:
    (swing,) = sensitivity(PAIR, {lever: (Decimal(1), Decimal(1))})
    assert swing.saving_low == swing.saving_high == PAIR.saving_a_year()


@pytest.mark.parametrize("lever", sorted(set(Lever) - {Lever.NEW_WAIT, Lever.DISCOUNT_RATE}))
def test_each_lever_with_something_to_swing_moves_the_answer(lever: Lever) -> None:
    (swing,) = sensitivity(PAIR, {lever: (Decimal("0.5"), Decimal("1.5"))})
    assert swing.width.amount > 0


def test_a_swing_that_turns_the_answer_is_marked() -> None:
    (swing,) = sensitivity(PAIR, {Lever.NEW_PRICE: (Decimal("0.1"), Decimal(1))})
    assert swing.turns_the_answer
    assert swing.saving_low < aud(0) < swing.saving_high


def test_a_share_is_between_0_and_1() -> None:
    with pytest.raises(InvalidValueError, match="between 0 and 1"):
        even_factors(Decimal(1))
