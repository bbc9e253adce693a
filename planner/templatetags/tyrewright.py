"""Filters that templates need and Django lacks."""

from django import template

register = template.Library()


@register.filter
def add_px(value: float, amount: float) -> float:
    """A length plus an amount, never below nothing [px]."""
    return round(max(0.0, value + amount), 2)


@register.filter
def hours_minutes(minutes: int) -> str:
    """Elapsed minutes as `3 h 05 min`."""
    hours, rest = divmod(int(minutes), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d} min" if rest else f"{hours} h"
