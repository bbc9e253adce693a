"""People who sign in."""

from django.contrib.auth.models import AbstractUser


class User(AbstractUser):
    """Somebody with an account; what they may do where stands in their site memberships."""
