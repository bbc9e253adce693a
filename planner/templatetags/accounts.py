"""Filters for amounts of money and shares."""

from decimal import Decimal

from django import template

from planner.domain.money import Money

register = template.Library()


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
