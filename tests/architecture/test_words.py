"""Every word of the pages can be translated: none outside a mark, and all marks in one catalogue."""

from pathlib import Path

import pytest
from django.apps import apps
from django.db import models
from django.utils.encoding import force_str

from planner.models.choice_words import CHOICE_WORDS
from tests.lib.catalogue import (
    bare_refusals,
    catalogue_messages,
    errors_for_users,
    marked_in_python,
    marked_in_template,
)
from tests.lib.page_words import unmarked_words

ROOT = Path(__file__).resolve().parents[2]
PLANNER = ROOT / "planner"
CATALOGUE = PLANNER / "locale/en/LC_MESSAGES/django.po"
TEMPLATES = sorted(
    path for path in (PLANNER / "web/templates").rglob("*") if path.suffix in (".html", ".svg", ".txt")
)
AGAIN = "cd planner && ../.venv/bin/python ../manage.py makemessages -l en -e html,py,svg,txt --no-location"
AGAIN += " --no-wrap --no-obsolete"


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda path: str(path.relative_to(PLANNER)))
def test_a_template_has_no_word_outside_a_mark(template: Path) -> None:
    assert list(unmarked_words(template.read_text())) == []


@pytest.mark.parametrize(
    ("template", "word"),
    [
        ("<p>Hello</p>", "Hello"),
        ('<a aria-label="Go there">→</a>', "Go"),
        ("{% if far %}{{ x|default:'none yet' }}{% endif %}", "none"),
        ("{% translate 'Well marked' %} but not this", "but"),
    ],
)
def test_the_scan_finds_what_it_looks_for(template: str, word: str) -> None:
    assert word in " ".join(found for _, found in unmarked_words(template))


def test_the_catalogue_holds_every_message_and_no_other() -> None:
    sources = [path.read_text() for path in PLANNER.rglob("*.py") if "migrations" not in path.parts]
    marked = {words for source in sources for _, words in marked_in_python(source) if words is not None}
    marked |= {words for template in TEMPLATES for words in marked_in_template(template.read_text())}
    kept = catalogue_messages(CATALOGUE)
    assert (marked - kept, kept - marked) == (set(), set()), f"write the catalogue again: {AGAIN}"


def test_a_mark_in_code_holds_the_words_themselves() -> None:
    """No tool finds `_(words)`: what is said must stand in the mark."""
    empty = [
        f"{path.relative_to(ROOT)}:{line}"
        for path in PLANNER.rglob("*.py")
        for line, words in marked_in_python(path.read_text())
        if words is None
    ]
    assert empty == []


CORE = ("domain", "scheduling", "solver", "costing", "engineering", "models", "selectors", "services")


def test_a_refusal_is_made_of_a_marked_sentence() -> None:
    """What is refused must be tellable in every language: a template with figures, not text put together."""
    sources = {path: path.read_text() for folder in CORE for path in (PLANNER / folder).rglob("*.py")}
    errors = errors_for_users(sources.values()) | {"NoFitError"}
    assert errors > {"InvalidValueError", "WrongStateError", "OffChartError", "PlanBreaksError"}
    bare = [
        f"{path.relative_to(ROOT)}:{line}: {words}"
        for path, source in sources.items()
        for line, words in bare_refusals(source, errors)
    ]
    assert bare == []


@pytest.mark.parametrize(
    "refusal",
    ['"no such tyre"', 'f"{tyre} is fitted"', '"it breaks: " + "; ".join(rules)'],
)
def test_the_scan_finds_a_refusal_of_bare_text(refusal: str) -> None:
    found = list(bare_refusals(f"raise InvalidValueError({refusal})", frozenset({"InvalidValueError"})))
    assert [line for line, _ in found] == [1]


CORE_WORDS = frozenset({"CostAssumption", "CostPrice", "CostRate", "CostUse", "CureLimitRow"})
"""Their choices are the core's own words, which are English still."""


def test_the_words_of_every_choice_are_marked() -> None:
    ours = [each for each in apps.get_app_config("planner").get_models() if each.__name__ not in CORE_WORDS]
    fields = [
        field for model in ours for field in model._meta.get_fields() if isinstance(field, models.CharField)
    ]
    shown = {force_str(label) for field in fields for _, label in field.flatchoices}
    assert shown <= {force_str(label) for label in CHOICE_WORDS.values()}
    assert {field.name for field in fields if field.flatchoices} >= {"state", "zone", "kind"}
