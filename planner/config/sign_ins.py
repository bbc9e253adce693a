"""What happens at the door: every sign-in, refusal and sign-out in the log, by user id and never by name."""

import logging
from typing import Any

from django.contrib.auth.signals import user_logged_in, user_logged_out, user_login_failed

logger = logging.getLogger("tyrewright.sign_in")


def watch_sign_ins() -> None:
    """Listen at every way in: the pages, the administrator's tables."""
    from planner.web.account.gate import signed_in  # models must be there first

    user_logged_in.connect(signed_in, dispatch_uid="gate")
    user_logged_in.connect(_in, dispatch_uid="log in")
    user_logged_out.connect(_out, dispatch_uid="log out")
    user_login_failed.connect(_refused, dispatch_uid="log refused")


def _in(user: Any, **_: object) -> None:
    logger.info("signed in", extra={"user_id": user.pk})


def _out(user: Any, **_: object) -> None:
    logger.info("signed out", extra={"user_id": getattr(user, "pk", None)})


def _refused(**_: object) -> None:
    """What was typed is not told: people type passwords into the field of the name."""
    logger.warning("sign-in refused")
