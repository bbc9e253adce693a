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
