"""What somebody is on a site."""

from django.conf import settings
from django.db import models

from planner.domain.permissions import Role
from planner.models.base import SiteOwned, choices_of, one_of


class SiteMembership(SiteOwned):
    """One role of one user on one site; who has none does not see the site."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=20, choices=choices_of(Role))

    class Meta:
        ordering = ("site", "user")
        constraints = [
            models.UniqueConstraint(fields=("user", "site"), name="membership_one_role_on_a_site"),
            one_of("role", Role, "membership_role"),
        ]

    def __str__(self) -> str:
        return f"{self.user} as {self.role}"
