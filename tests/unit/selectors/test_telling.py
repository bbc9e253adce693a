"""Sentences of the core in the reader's language, names and units."""

from datetime import date, datetime, timedelta, timezone

import pytest
from django.utils import translation

from planner.domain.errors import InvalidValueError
from planner.domain.injury import Zone
from planner.domain.sentences import Sentence, _, joined, kept
from planner.domain.sentences import counted as ngettext
from planner.selectors.preferences import AS_KEPT, Beside, Reading
from planner.selectors.telling import in_words

PERTH = timezone(timedelta(hours=8))
AT = datetime(2026, 3, 5, 14, 20, tzinfo=PERTH)
OF_IMPERIAL = Reading(language="en", temperature_unit="°F", pressure_unit="psi")


@pytest.mark.parametrize(
    ("told", "words"),
    [
        # A decimal comma and a point between thousands, days and months by their German names.
        (_("{kw:g} kW", kw=12.5), "12,5 kW"),
        (_("{hours:,.0f} h", hours=1234.0), "1.234 h"),
        (_("{at:moment}", at=AT), "Do 5 Mär 14:20"),
        (_("{day}", day=date(2026, 3, 5)), "5 Mär 2026"),
        (_("row {row}", row=1234), "row 1234"),
    ],
)
def test_figures_follow_the_locale(told: Sentence, words: str) -> None:
    with translation.override("de"):
        assert in_words(told).replace("Mär.", "Mär").replace("März", "Mär") == words


def test_templates_and_the_parts_of_a_sentence_are_looked_up(monkeypatch: pytest.MonkeyPatch) -> None:
    known = {
        "{what:phrase}. Ready {at:moment}.": "Fertig {at:moment}: {what:phrase}.",
        "No room": "Kein Platz",
        "{n} tyres": "{n} Reifen",
    }
    monkeypatch.setattr(translation._trans, "gettext", lambda text: known.get(text, text), raising=False)
    many = lambda one, many, n: known.get(one if n == 1 else many, one)  # noqa: E731
    monkeypatch.setattr(translation._trans, "ngettext", many, raising=False)
    told = _("{what:phrase}. Ready {at:moment}.", what=_("No room"), at=AT)
    assert told == "No room. Ready Thu 5 Mar 14:20."
    assert in_words(told) == in_words(kept(told)) == "Fertig Thu 5 Mar 14:20: Kein Platz."
    # A plan keeps the part as its English text, which is a template of its own.
    flat = Sentence(told.template, {"what": "No room", "at": AT.isoformat()})
    assert in_words(flat) == in_words(told)
    assert in_words(ngettext("{n} tyre", "{n} tyres", 2)) == "2 Reifen"
    assert in_words(InvalidValueError(joined([told, told]))) == "; ".join([in_words(told)] * 2)


def test_names_stand_for_ids_wherever_a_figure_holds_one() -> None:
    names = {"T1": "Tove", "H1": "Small 1"}
    told = _("{who:names} at {set} with {tools}", who=("T1", "T2"), set="H1", tools=["H1", "H2"])
    assert in_words(told, names) == "Tove and T2 at Small 1 with Small 1, H2"


def test_the_domains_own_words_are_those_of_the_pages() -> None:
    assert in_words(_("the {zone} injury", zone=Zone.SIDEWALL)) == "the sidewall injury"


@pytest.mark.parametrize(
    ("told", "words"),
    [
        # 120 °C are 248 °F, 10 degrees Celsius apart are 18 of Fahrenheit, 206.84 kPa are 30.0 psi.
        (_("at {pads:.0f °C}", pads=120.0), "at 248 °F"),
        (_("{apart:.0f Δ°C} apart", apart=10.0), "18 °F apart"),
        (_("bags at {bags:.0f kPa}", bags=206.84), "bags at 30.0 psi"),
        (_("holds {level:.0f} °C as read", level=284.0), "holds 284 °C as read"),
    ],
)
def test_figures_of_a_cure_are_told_in_the_readers_units(told: Sentence, words: str) -> None:
    assert in_words(told, reading=OF_IMPERIAL) == words
    assert in_words(told, reading=Beside(reading=AS_KEPT)) == told
    assert in_words(told) == told


def test_a_record_keeps_its_units_with_the_readers_beside() -> None:
    told = _("at {pads:.0f °C}, {apart:.0f Δ°C} apart", pads=140.0, apart=10.0)
    assert in_words(told, reading=Beside(reading=OF_IMPERIAL)) == "at 140 °C (284 °F), 10 °C (18 °F) apart"


@pytest.mark.parametrize("template", ["{kw:nonsense} kW", "{at:moment}"])
def test_a_stored_template_that_nobody_can_fill_is_told_as_it_was(template: str) -> None:
    assert in_words(Sentence(template, {"kw": 5.0, "at": "soon"}, text="5 kW soon")) == "5 kW soon"


def test_other_text_stands_as_it_is() -> None:
    assert (in_words("{a} as typed"), in_words(InvalidValueError("plain"))) == ("{a} as typed", "plain")
