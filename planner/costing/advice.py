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
from planner.domain.sentences import Sentence, _

_DOING = {
    OptionKind.REPAIR: _("repairing"),
    OptionKind.NEW: _("buying new"),
    OptionKind.RETREAD: _("retreading"),
    OptionKind.SEND_OUT: _("sending it out"),
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
    sentence: Sentence
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clarity:
    """The odds from which the cheaper option is called clear; between them and their rest it is close."""

    odds: Decimal = Decimal("0.7")

    def __post_init__(self) -> None:
        if not Decimal("0.5") <= self.odds < 1:
            raise InvalidValueError(_("the odds called clear must be from 0.5 to less than 1"))


def advise(
    comparison: Comparison, odds: Decimal, breaches: tuple[Reason, ...], clarity: Clarity | None = None
) -> Advice:
    """Advice from the costs, the odds that repair is cheaper than new, and every limit that is exceeded."""
    if not 0 <= odds <= 1:
        raise InvalidValueError(_("odds must be from 0 to 1"))
    if breaches:
        return advise_against(breaches)
    leaning = _leaning(comparison, odds, clarity or Clarity())
    return Advice(
        leaning=leaning, sentence=_sentence(leaning, comparison, odds), reasons=_reasons(comparison)
    )


def advise_against(breaches: tuple[Reason, ...]) -> Advice:
    """Advice on a tyre that is beyond limits: whatever a repair costs, none is advised."""
    why = tuple(reason.message for reason in breaches)
    sentence = _("Not to be repaired, whatever it costs: {why:list}.", why=why)
    return Advice(leaning=Leaning.NOT_TO_BE_REPAIRED, sentence=sentence, reasons=breaches)


def _leaning(comparison: Comparison, odds: Decimal, clarity: Clarity) -> Leaning:
    cheapest = comparison.costs()[0].option.kind
    if cheapest is OptionKind.REPAIR:
        return Leaning.REPAIR if odds >= clarity.odds else Leaning.CLOSE
    if cheapest is OptionKind.NEW:
        return Leaning.OTHER if odds <= 1 - clarity.odds else Leaning.CLOSE
    return Leaning.OTHER


def _sentence(leaning: Leaning, comparison: Comparison, odds: Decimal) -> Sentence:
    cheapest, rival = _pair(comparison)
    opening = _("Too close to call")
    if leaning is not Leaning.CLOSE:
        opening = _("The figures lean to {doing}", doing=_DOING[cheapest.option.kind])
    return _(
        "{opening}: {cheapest}, while {rival}; repairing is cheaper than buying new with odds "
        "of {percent:.0f} %.",
        opening=opening,
        cheapest=_rate(cheapest),
        rival=_rate(rival),
        percent=100 * odds,
    )


def _pair(comparison: Comparison) -> tuple[OptionCost, OptionCost]:
    """The cheapest, and repair as its rival, or new where repair is itself the cheapest."""
    costs = comparison.costs()
    cheapest = costs[0]
    rival = OptionKind.NEW if cheapest.option.kind is OptionKind.REPAIR else OptionKind.REPAIR
    return cheapest, option_cost(comparison.option(rival), comparison.terms)


def _rate(cost: OptionCost) -> Sentence:
    return _(
        "{doing} costs {yearly} a year ({hourly} an hour)",
        doing=_DOING[cost.option.kind],
        yearly=cost.per_year.rounded(),
        hourly=cost.per_hour.rounded(),
    )


def _reasons(comparison: Comparison) -> tuple[Reason, ...]:
    repair, new = comparison.option(OptionKind.REPAIR), comparison.option(OptionKind.NEW)
    turn = break_even(comparison)
    lines = [
        ("life", _life(repair.hours, turn.hours)),
        ("outlay", _price(repair.outlay, turn.outlay)),
        ("failure", _failure(repair.failure, turn.failure)),
        (
            "waiting",
            _(
                "the machine waits {repair_h:,.0f} h for the repair and {new_h:,.0f} h for a new one",
                repair_h=repair.wait_hours,
                new_h=new.wait_hours,
            ),
        ),
    ]
    return tuple(Reason(code=code, message=message) for code, message in lines)


def _life(hours: Decimal, turn: Decimal | None) -> Sentence:
    if turn is None:
        return _(
            "the repaired tyre is expected to run {hours:,.0f} h, and no life turns the answer", hours=hours
        )
    return _(
        "the repaired tyre is expected to run {hours:,.0f} h; the answer turns at {turn:,.0f} h",
        hours=hours,
        turn=turn,
    )


def _price(outlay: Money, turn: Money | None) -> Sentence:
    if turn is None:
        return _("the repair costs {outlay}, and no price turns the answer", outlay=outlay.rounded())
    return _(
        "the repair costs {outlay}; the answer turns at {turn}", outlay=outlay.rounded(), turn=turn.rounded()
    )


def _failure(odds: Decimal, turn: Decimal | None) -> Sentence:
    percent = 100 * odds
    if turn is None:
        return _("it fails with odds of {percent:.0f} %, and no odds turn the answer", percent=percent)
    return _(
        "it fails with odds of {percent:.0f} %; the answer turns at {turn:.0f} %",
        percent=percent,
        turn=100 * turn,
    )
