"""Ending somebody's sessions: everywhere, at once."""

from django.db.models import F

from planner.models import User


def sessions_end(*, user: User) -> None:
    """Sign somebody out everywhere; `user` knows it too, so that who asked can stay signed in."""
    User.objects.filter(pk=user.pk).update(session_number=F("session_number") + 1)
    user.refresh_from_db(fields=["session_number"])
