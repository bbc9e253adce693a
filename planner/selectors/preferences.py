"""Reading how somebody likes their figures."""

from dataclasses import dataclass

from planner.models import Site, User, UserPreference


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """The language and units that a page is written in."""

    language: str
    temperature_unit: str
    pressure_unit: str


AS_KEPT = Reading(language="", temperature_unit="°C", pressure_unit="kPa")
"""The units in which everything is kept, and in which signed records are shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Figures as they were signed, with the reader's own units beside them."""

    reading: Reading

    @property
    def differs(self) -> bool:
        """Whether the reader reads in another unit than what was signed."""
        units = (self.reading.temperature_unit, self.reading.pressure_unit)
        return units != (AS_KEPT.temperature_unit, AS_KEPT.pressure_unit)


def preference_get(*, user: User) -> UserPreference:
    """The user's own choice; of nothing where they made none."""
    return UserPreference.objects.filter(user=user).first() or UserPreference(user=user)


def reading_get(*, user: User, site: Site) -> Reading:
    """The user's own choice, and the site's where they made none."""
    own = preference_get(user=user)
    return Reading(
        language=own.language or site.language,
        temperature_unit=own.temperature_unit or site.temperature_unit,
        pressure_unit=own.pressure_unit or site.pressure_unit,
    )
