"""Reading whether somebody uses one-time codes, or has to."""

from enum import StrEnum

from django.conf import settings
from django_otp.plugins.otp_totp.models import TOTPDevice

from planner.models import SiteMembership, User


class CodeDue(StrEnum):
    """What stands between a password and the pages."""

    NOTHING = ""
    ENTER = "enter"
    SET_UP = "set_up"


def has_codes(*, user: User) -> bool:
    """Whether the user has confirmed a phone."""
    return bool(TOTPDevice.objects.filter(user=user, confirmed=True).exists())


def must_have_codes(*, user: User) -> bool:
    """Whether the service asks codes of one of the user's roles (`CODES_FOR`)."""
    return SiteMembership.objects.filter(user=user, role__in=settings.CODES_FOR).exists()


def code_due_get(*, user: User) -> CodeDue:
    """What is due after the password."""
    if has_codes(user=user):
        return CodeDue.ENTER
    return CodeDue.SET_UP if must_have_codes(user=user) else CodeDue.NOTHING
