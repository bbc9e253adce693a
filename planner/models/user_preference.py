"""How somebody likes to read figures."""

from django.conf import settings
from django.db import models


class UserPreference(models.Model):
    """Units and language of one user; empty: as the site has it."""

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="preference")
    language = models.CharField(max_length=10, blank=True)
    temperature_unit = models.CharField(max_length=4, blank=True)
    pressure_unit = models.CharField(max_length=4, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(temperature_unit__in=["", "°C", "°F"]), name="preference_temperature_unit"
            ),
            models.CheckConstraint(
                condition=models.Q(pressure_unit__in=["", "kPa", "psi", "bar"]),
                name="preference_pressure_unit",
            ),
        ]

    def __str__(self) -> str:
        return f"preferences of {self.user}"
