"""How somebody likes to read figures: their own choice, which no site depends on."""

from django.core.exceptions import ValidationError

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.domain.units import PRESSURE_UNITS, TEMPERATURE_UNITS
from planner.models import User, UserPreference


def preference_set(*, user: User, language: str, temperature_unit: str, pressure_unit: str) -> None:
    """Keep the user's language and units; empty: as each site has it. InvalidValueError on an unknown one."""
    for unit, units in ((temperature_unit, TEMPERATURE_UNITS), (pressure_unit, PRESSURE_UNITS)):
        if unit and unit not in units:
            raise InvalidValueError(_("{unit:quoted} is none of {units}", unit=unit, units=tuple(units)))
    values = {"language": language, "temperature_unit": temperature_unit, "pressure_unit": pressure_unit}
    row = UserPreference.objects.filter(user=user).first() or UserPreference(user=user)
    for name, value in values.items():
        setattr(row, name, value)
    try:
        row.full_clean()
    except ValidationError as fault:
        raise InvalidValueError("; ".join(fault.messages)) from fault
    row.save()
