"""Filters for records: moments and days that were kept as text, and the words of a judgement."""

from datetime import date, datetime
from typing import Any

from django import template
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from planner.domain.cure_limits import KINDS, CureLimit
from planner.domain.sentences import Sentence
from planner.selectors.preferences import AS_KEPT, Beside, Reading
from planner.selectors.reading_units import limit_figure, sentence_words
from planner.selectors.telling import in_words

register = template.Library()


@register.filter
def moment(kept: str | None) -> datetime | None:
    """A kept moment on the site's clock; nothing for nothing."""
    return None if not kept else timezone.localtime(datetime.fromisoformat(kept))


@register.filter
def day(kept: str | None) -> date | None:
    """A kept day."""
    return None if not kept else date.fromisoformat(kept)


@register.filter
def verdict_words(verdict: str) -> str:
    """A verdict as people say it."""
    return {
        "within_plan": _("within plan"),
        "needs_decision": _("needs a person's decision"),
        "not_enough_data": _("not enough data"),
    }.get(verdict, verdict)


@register.filter
def verdict_level(verdict: str) -> str:
    """The level of a verdict's mark."""
    return {"within_plan": "good", "needs_decision": "warn"}.get(verdict, "bad")


@register.filter
def spaced(name: str) -> str:
    """A word of the program as people write it."""
    return in_words(Sentence(name.replace("_", " ")))


@register.filter
def told_in(text: object, reading: Reading | Beside | str) -> str:
    """A sentence about a cure in the reader's units, or with them beside; else in those that are kept."""
    return sentence_words(text, reading if isinstance(reading, Reading | Beside) else AS_KEPT)


@register.filter
def limit_name(limit: str) -> str:
    """What a limit is of."""
    return in_words(KINDS[CureLimit(limit)].words)


@register.filter
def limit_in_unit(limit: Any, reading: Reading | Beside | str) -> str:
    """The figure of a limit, a row or as it was kept, in the reader's unit, with it beside, or in its own."""
    kept = limit if isinstance(limit, dict) else {name: getattr(limit, name) for name in ("limit", "value")}
    kind = CureLimit(kept["limit"])
    value = float(kept["value"])
    if isinstance(reading, Beside):
        signed, own = limit_figure(kind, value, AS_KEPT), limit_figure(kind, value, reading.reading)
        return signed if signed == own else f"{signed} ({own})"
    return limit_figure(kind, value, reading if isinstance(reading, Reading) else AS_KEPT)


@register.filter
def drawing(svg: str) -> SafeString:
    """A drawing that the program made itself, with every name in it escaped."""
    return mark_safe(svg)  # noqa: S308 - made by cure_log_svg, which escapes every text
