"""What people change of their own account."""

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from planner.domain.errors import InvalidValueError, NotAllowedError
from planner.domain.sentences import _
from planner.models import User
from planner.services.sessions import sessions_end


def password_refuse(*, user: User, password: str) -> None:
    """Raise NotAllowedError where this is not the user's password."""
    if not user.check_password(password):
        raise NotAllowedError(_("that is not your password"))


def password_change(*, user: User, current: str, new: str) -> None:
    """Set another password; every session of the user ends, but the one that asks if its caller keeps it.

    Raises NotAllowedError where `current` is wrong, InvalidValueError where the new one is too weak.
    """
    password_refuse(user=user, password=current)
    _weak_refuse(user, new)
    user.set_password(new)
    user.save(update_fields=["password"])
    sessions_end(user=user)


def password_first(*, user: User, password: str) -> None:
    """Save a new user with a first password; InvalidValueError where it is too weak."""
    _weak_refuse(user, password)
    user.set_password(password)
    user.save()


def _weak_refuse(user: User, password: str) -> None:
    try:
        validate_password(password, user)
    except ValidationError as fault:
        raise InvalidValueError(" ".join(fault.messages)) from fault
