"""Filters that templates need and Django lacks."""

from django import template
from django.contrib.auth.base_user import AbstractBaseUser
from django.utils.translation import gettext as _

from planner.domain.durations import hours_minutes
from planner.selectors.telling import in_words

register = template.Library()


@register.filter
def add_px(value: float, amount: float) -> float:
    """A length plus an amount, never below nothing [px]."""
    return round(max(0.0, value + amount), 2)


register.filter(hours_minutes)
register.filter(in_words)


@register.filter
def share(value: float) -> str:
    """A share as a percentage that never claims to be certain where it is not."""
    percent = round(100 * value)
    if percent == 0 and value > 0:
        return _("under 1 %")
    if percent == 100 and value < 1:
        return _("over 99 %")
    return f"{percent} %"


@register.filter
def person(user: AbstractBaseUser | None) -> str:
    """What people call somebody; nothing for nobody."""
    if user is None:
        return ""
    full: str = getattr(user, "get_full_name", str)()
    return full or user.get_username()
