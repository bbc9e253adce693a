"""Filters for amounts of money and shares."""

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

from django import template
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from planner.domain.money import Money

register = template.Library()

_CAUSES: Mapping[str, str | Promise] = MappingProxyType(
    {
        "efficiency": _("more or fewer hours than estimated"),
        "rate": _("hours at another rate than estimated"),
        "mix": _("another grade of crew, or another heater set, than estimated"),
        "overtime": _("more or less of the work in overtime"),
        "usage": _("more or less material, energy, trips or inspections"),
        "price": _("another price than estimated"),
        "tax rate": _("another rate of tax"),
        "taxed amount": _("tax on a larger or smaller amount"),
        "outcome": _("rework or scrap came, or did not; the estimate carries their odds"),
        "not planned": _("what the estimate did not have at all"),
    }
)


@register.filter
def money(amount: Money | None) -> str:
    """An amount in whole smallest units with its currency; a dash where there is none."""
    return "–" if amount is None else str(amount.rounded())


@register.filter
def amount(found: Money | None) -> str:
    """The same without its currency, for columns whose heading names it."""
    return "–" if found is None else f"{found.rounded().amount:,f}"


@register.filter
def percent(share: float | None) -> str:
    """A share of 1 as a whole percentage; a dash where there is none."""
    return "–" if share is None else f"{100 * float(share):.0f} %"


@register.filter
def plain(value: object) -> str:
    """A number without trailing noughts, in six decimals at most."""
    text = f"{round(value, 6):f}" if isinstance(value, Decimal) else str(value)
    return text.rstrip("0").rstrip(".") if "." in text else text


@register.filter
def cause_words(cause: str) -> str:
    """What a cause of a variance means, in a sentence of its own."""
    return str(_CAUSES.get(cause, "–"))
