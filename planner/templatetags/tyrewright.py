"""Filters that templates need and Django lacks."""

from django import template
from django.contrib.auth.base_user import AbstractBaseUser

from planner.domain.durations import hours_minutes

register = template.Library()


@register.filter
def add_px(value: float, amount: float) -> float:
    """A length plus an amount, never below nothing [px]."""
    return round(max(0.0, value + amount), 2)


register.filter(hours_minutes)


@register.filter
def person(user: AbstractBaseUser | None) -> str:
    """What people call somebody; nothing for nobody."""
    if user is None:
        return ""
    full: str = getattr(user, "get_full_name", str)()
    return full or user.get_username()
