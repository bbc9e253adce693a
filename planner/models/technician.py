"""Somebody who works in the bay."""

from django.conf import settings
from django.db import models

from planner.models.base import NamedOnSite
from planner.models.skill import Skill


class Technician(NamedOnSite):
    """A technician with a grade and skills; `user` is set where they sign in themselves."""

    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="technicians"
    )
    grade = models.CharField(max_length=40, blank=True)
    skills = models.ManyToManyField(Skill, blank=True, related_name="technicians")
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ("code",)
        constraints = [
            models.UniqueConstraint(fields=("site", "code"), name="technician_code_on_site"),
            models.UniqueConstraint(
                fields=("site", "user"),
                condition=models.Q(user__isnull=False),
                name="technician_one_for_a_user_on_site",
            ),
        ]
