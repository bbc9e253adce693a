"""Sentences say today's English, and keep what it takes to say it otherwise."""

import json
import pickle
from datetime import datetime, timedelta, timezone
from decimal import Decimal

import pytest

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import Sentence, _, joined, kept, named, recalled, sentence_of
from planner.domain.sentences import counted as ngettext

PERTH = timezone(timedelta(hours=8))
MOMENT = datetime(2026, 3, 5, 14, 20, tzinfo=PERTH)


def test_every_kind_of_figure_has_its_english() -> None:
    # 5 March 2026 is a Thursday; 755 min are 12 h 35 min.
    told = _(
        "{at:moment} {at:minute} {at:day_minute} {least:duration} {who:names} {kw:g} {price:,.2f} "
        "{text:quoted} {all}",
        at=MOMENT, least=755, who=("A", "B", "C"), kw=6.0, price=Decimal("1234.5"), text="x", all=["A", "B"],
    )  # fmt: skip
    assert told == "Thu 5 Mar 14:20 2026-03-05 14:20 Thu 05 14:20 12 h 35 min A, B and C 6 1,234.50 'x' A, B"


def test_a_sentence_stands_in_another_one() -> None:
    inner = _("{n} h late", n=3)
    assert _("{what:capital}: {why}", what=_("the tyre"), why=inner) == "The tyre: 3 h late"
    assert joined([inner, inner]) == "3 h late; 3 h late"


def test_a_name_that_has_no_figure_stays_as_it_stands() -> None:
    assert _("see {there}") == "see {there}"


@pytest.mark.parametrize(("count", "words"), [(1, "1 tyre waits"), (2, "2 tyres wait")])
def test_words_follow_a_number(count: int, words: str) -> None:
    assert ngettext("{n} tyre waits", "{n} tyres wait", count) == words


@pytest.mark.parametrize(
    "told",
    [
        _("nothing else"),
        _("{a} at {at:moment} for {min:duration}", a="T1", at=MOMENT, min=5),
        _("{who:names} and {why}", who=("A", "B"), why=_("{n} of them", n=2)),
        ngettext("{n} tyre waits", "{n} tyres wait", 2),
        joined([_("{n} of them", n=2), "as it stands"]),
    ],
)
def test_what_a_column_keeps_is_the_same_sentence_again(told: Sentence) -> None:
    again = recalled(json.loads(json.dumps(kept(told))))
    assert (again, again.template, again.many) == (told, told.template, told.many)
    assert Sentence(again.template, again.figures, many=again.many) == told


def test_what_an_older_release_kept_is_its_own_template() -> None:
    assert recalled("no set fits").template == "no set fits"


def test_a_cache_keeps_it_whole() -> None:
    told = _("{a} at {at:moment}", a="T1", at=MOMENT)
    again = pickle.loads(pickle.dumps(told))  # noqa: S301 (what was just written)
    assert (again, again.template, again.figures) == (told, told.template, told.figures)


def test_an_error_gives_the_sentence_that_it_was_made_of() -> None:
    told = _("{n} is too many", n=9)
    assert sentence_of(InvalidValueError(told)).template == "{n} is too many"
    assert sentence_of(InvalidValueError("plain")) == "plain"
    assert _("no: {fault}", fault=InvalidValueError(told)).figures["fault"] is told


def test_a_few_names_and_how_many_more() -> None:
    assert [named(list(names)) for names in ("A", "AB", "ABCDE")] == ["A", "A and B", "A, B, C and 2 more"]
