"""One-time codes of RFC 6238 beside the password: set up, asked for, taken away.

Each code is good once, and too many wrong ones make the next wait ever longer (django-otp does both).
"""

from django.db import transaction
from django_otp.plugins.otp_totp.models import TOTPDevice

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.sentences import _
from planner.models import User
from planner.services.sessions import sessions_end

_WRONG = _("that code is not right: wait for the next one, and see that the phone's clock is right")


def codes_begin(*, user: User) -> TOTPDevice:
    """A new key for the user's phone, which counts once `codes_confirm` had a code of it."""
    with transaction.atomic():
        User.objects.select_for_update().get(pk=user.pk)
        if TOTPDevice.objects.filter(user=user, confirmed=True).exists():
            raise ConflictError(_("you have one-time codes already: take them away first"))
        TOTPDevice.objects.filter(user=user, confirmed=False).delete()
        return TOTPDevice.objects.create(user=user, name="phone", confirmed=False)


def codes_confirm(*, user: User, code: str) -> None:
    """From now on the user is asked for codes; InvalidValueError where this one is wrong."""
    _verify(user, code, confirmed=False)
    TOTPDevice.objects.filter(user=user).update(confirmed=True)
    sessions_end(user=user)


def codes_check(*, user: User, code: str) -> None:
    """Raise InvalidValueError where this is not the code of now, or was used before."""
    _verify(user, code, confirmed=True)


def codes_remove(*, user: User) -> None:
    """Ask the user for codes no more; all of their sessions end."""
    TOTPDevice.objects.filter(user=user).delete()
    sessions_end(user=user)


def _verify(user: User, code: str, *, confirmed: bool) -> None:
    with transaction.atomic():
        device = TOTPDevice.objects.select_for_update().filter(user=user, confirmed=confirmed).first()
        right = device is not None and device.verify_token(code.replace(" ", ""))
    if not right:
        raise InvalidValueError(_WRONG)
