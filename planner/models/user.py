"""People who sign in."""

from typing import Any

from django.contrib.auth.models import AbstractUser
from django.db import models
from django.utils.crypto import salted_hmac


class User(AbstractUser):
    """Somebody with an account; what they may do where stands in their site memberships.

    A session holds while its hash does: another password or another `session_number` ends every one.
    """

    session_number = models.PositiveIntegerField(default=1, editable=False)

    def _get_session_auth_hash(self, secret: Any = None) -> str:
        """The hash that each session of this user carries (Django asks for it under this name)."""
        words = f"{self.password}:{self.session_number}"
        return salted_hmac("tyrewright.session", words, secret=secret, algorithm="sha256").hexdigest()
