"""Advice: one sentence, its reasons, and never to repair beyond a limit."""

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.costing.advice import Clarity, Leaning, advise
from planner.costing.comparison import Comparison
from planner.costing.limits import Casing, RepairLimits, beyond_limits
from planner.costing.options import OptionKind
from planner.domain.errors import InvalidValueError
from planner.domain.plan import Reason
from planner.domain.sentences import Sentence
from tests.lib.costing import comparison, option

LIMITS = RepairLimits(casing_age_years=Decimal(6), repairs=3, tread_mm=Decimal(20))
SOUND = Casing(age_years=Decimal(6), repairs=2, tread_mm=Decimal(20))


def pair(repair_cost: str) -> Comparison:
    return comparison(option(OptionKind.REPAIR, repair_cost, "4000"), option(OptionKind.NEW, "20000", "8000"))


@pytest.mark.parametrize(
    ("repair_cost", "odds", "leaning"),
    [
        ("6000", "0.7", Leaning.REPAIR),
        ("6000", "0.69", Leaning.CLOSE),
        ("14000", "0.3", Leaning.OTHER),
        ("14000", "0.31", Leaning.CLOSE),
    ],
)
def test_leaning_needs_both_cost_and_odds(repair_cost: str, odds: str, leaning: Leaning) -> None:
    assert advise(pair(repair_cost), Decimal(odds), ()).leaning is leaning


def test_the_sentence_says_the_figures() -> None:
    advice = advise(pair("6000"), Decimal("0.82"), ())
    # 6000 / 4000 h and 20000 / 8000 h, 5000 h a year.
    assert advice.sentence == (
        "The figures lean to repairing: repairing costs AUD 7,500.00 a year (AUD 1.50 an hour), while buying"
        " new costs AUD 12,500.00 a year (AUD 2.50 an hour); repairing is cheaper than buying new with odds"
        " of 82 %."
    )
    assert [reason.code for reason in advice.reasons] == ["life", "outlay", "failure", "waiting"]
    assert "the answer turns at 2,400 h" in advice.reasons[0].message  # 6000 / 2.5
    assert "the answer turns at AUD 10,000.00" in advice.reasons[1].message  # 4000 × 2.5


def test_a_cheaper_third_way_is_named() -> None:
    trio = replace(pair("6000"), options=(*pair("6000").options, option(OptionKind.RETREAD, "2000", "5000")))
    advice = advise(trio, Decimal("0.9"), ())
    assert advice.leaning is Leaning.OTHER
    assert advice.sentence.startswith("The figures lean to retreading: retreading costs AUD 2,000.00 a year")


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"age_years": Decimal("6.1")}, "casing-too-old"),
        ({"repairs": 3}, "too-many-repairs"),
        ({"tread_mm": Decimal("19.9")}, "too-little-tread"),
        ({"damage": (Reason(code="bead", message=Sentence("the bead wire is bare")),)}, "bead"),
    ],
)
def test_beyond_a_limit_there_is_no_advice_to_repair_whatever_it_costs(
    change: dict[str, object], code: str
) -> None:
    breaches = beyond_limits(replace(SOUND, **change), LIMITS)  # type: ignore[arg-type]
    assert [reason.code for reason in breaches] == [code]
    advice = advise(pair("0"), Decimal(1), breaches)
    assert advice.leaning is Leaning.NOT_TO_BE_REPAIRED
    assert breaches[0].message in advice.sentence


def test_exactly_at_every_limit_is_within() -> None:
    assert beyond_limits(SOUND, LIMITS) == ()


def test_odds_and_clarity_are_checked() -> None:
    with pytest.raises(InvalidValueError, match="odds must be from 0 to 1"):
        advise(pair("1"), Decimal("1.1"), ())
    with pytest.raises(InvalidValueError, match=r"from 0.5 to less than 1"):
        Clarity(odds=Decimal("0.4"))
