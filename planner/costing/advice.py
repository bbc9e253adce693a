"""Advice on one tyre in one sentence with its reasons; a person decides and signs."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.costing.break_even import break_even
from planner.costing.comparison import Comparison, OptionCost, option_cost
from planner.costing.options import OptionKind
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money
from planner.domain.plan import Reason

_DOING = {
    OptionKind.REPAIR: "repairing",
    OptionKind.NEW: "buying new",
    OptionKind.RETREAD: "retreading",
    OptionKind.SEND_OUT: "sending it out",
}


class Leaning(StrEnum):
    """Which way the figures lean."""

    REPAIR = "repair"
    OTHER = "other"
    CLOSE = "close"
    NOT_TO_BE_REPAIRED = "not to be repaired"


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """One sentence, the way it leans, and its reasons in the order of their weight."""

    leaning: Leaning
    sentence: str
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clarity:
    """The odds from which the cheaper option is called clear; between them and their rest it is close."""

    odds: Decimal = Decimal("0.7")

    def __post_init__(self) -> None:
        if not Decimal("0.5") <= self.odds < 1:
            raise InvalidValueError("the odds called clear must be from 0.5 to less than 1")


def advise(
    comparison: Comparison, odds: Decimal, breaches: tuple[Reason, ...], clarity: Clarity | None = None
) -> Advice:
    """Advice from the costs, the odds that repair is cheaper than new, and every limit that is exceeded."""
    if not 0 <= odds <= 1:
        raise InvalidValueError("odds must be from 0 to 1")
    if breaches:
        return advise_against(breaches)
    leaning = _leaning(comparison, odds, clarity or Clarity())
    return Advice(
        leaning=leaning, sentence=_sentence(leaning, comparison, odds), reasons=_reasons(comparison)
    )


def advise_against(breaches: tuple[Reason, ...]) -> Advice:
    """Advice on a tyre that is beyond limits: whatever a repair costs, none is advised."""
    sentence = f"Not to be repaired, whatever it costs: {'; '.join(reason.message for reason in breaches)}."
    return Advice(leaning=Leaning.NOT_TO_BE_REPAIRED, sentence=sentence, reasons=breaches)


def _leaning(comparison: Comparison, odds: Decimal, clarity: Clarity) -> Leaning:
    cheapest = comparison.costs()[0].option.kind
    if cheapest is OptionKind.REPAIR:
        return Leaning.REPAIR if odds >= clarity.odds else Leaning.CLOSE
    if cheapest is OptionKind.NEW:
        return Leaning.OTHER if odds <= 1 - clarity.odds else Leaning.CLOSE
    return Leaning.OTHER


def _sentence(leaning: Leaning, comparison: Comparison, odds: Decimal) -> str:
    cheapest, rival = _pair(comparison)
    leans = f"The figures lean to {_DOING[cheapest.option.kind]}"
    opening = "Too close to call" if leaning is Leaning.CLOSE else leans
    return (
        f"{opening}: {_rate(cheapest)}, while {_rate(rival)};"
        f" repairing is cheaper than buying new with odds of {100 * odds:.0f} %."
    )


def _pair(comparison: Comparison) -> tuple[OptionCost, OptionCost]:
    """The cheapest, and repair as its rival, or new where repair is itself the cheapest."""
    costs = comparison.costs()
    cheapest = costs[0]
    rival = OptionKind.NEW if cheapest.option.kind is OptionKind.REPAIR else OptionKind.REPAIR
    return cheapest, option_cost(comparison.option(rival), comparison.terms)


def _rate(cost: OptionCost) -> str:
    yearly, hourly = cost.per_year.rounded(), cost.per_hour.rounded()
    return f"{_DOING[cost.option.kind]} costs {yearly} a year ({hourly} an hour)"


def _reasons(comparison: Comparison) -> tuple[Reason, ...]:
    repair, new = comparison.option(OptionKind.REPAIR), comparison.option(OptionKind.NEW)
    turn = break_even(comparison)
    lines = [
        ("life", _life(repair.hours, turn.hours)),
        ("outlay", _price(repair.outlay, turn.outlay)),
        ("failure", _failure(repair.failure, turn.failure)),
        (
            "waiting",
            f"the machine waits {repair.wait_hours:,.0f} h for the repair"
            f" and {new.wait_hours:,.0f} h for a new one",
        ),
    ]
    return tuple(Reason(code=code, message=message) for code, message in lines)


def _life(hours: Decimal, turn: Decimal | None) -> str:
    stands = f"the repaired tyre is expected to run {hours:,.0f} h"
    return (
        f"{stands}, and no life turns the answer"
        if turn is None
        else f"{stands}; the answer turns at {turn:,.0f} h"
    )


def _price(outlay: Money, turn: Money | None) -> str:
    stands = f"the repair costs {outlay.rounded()}"
    return (
        f"{stands}, and no price turns the answer"
        if turn is None
        else f"{stands}; the answer turns at {turn.rounded()}"
    )


def _failure(odds: Decimal, turn: Decimal | None) -> str:
    stands = f"it fails with odds of {100 * odds:.0f} %"
    return (
        f"{stands}, and no odds turn the answer"
        if turn is None
        else f"{stands}; the answer turns at {100 * turn:.0f} %"
    )
