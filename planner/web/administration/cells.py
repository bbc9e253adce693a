"""The cells of a list, in words."""

from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

from django.db import models
from django.utils import timezone
from django.utils.formats import date_format, number_format, time_format
from django.utils.translation import gettext as _

from planner.selectors.preferences import Reading
from planner.selectors.reading_units import temperature_words


def cell_words(row: models.Model, name: str, reading: Reading) -> str:
    """A field of a row as people read it, degrees with the reader's own beside; a dash for nothing."""
    if name.endswith("_c") and reading.temperature_unit != "°C" and getattr(row, name) is not None:
        return f"{_words(getattr(row, name))} ({temperature_words(getattr(row, name), reading)})"
    field = row._meta.get_field(name)
    if field.many_to_many:
        return ", ".join(str(each) for each in getattr(row, name).all()) or "–"
    shown = getattr(row, f"get_{name}_display", None)
    return _words(shown() if shown else getattr(row, name)) or "–"


def _words(value: Any) -> str:
    match value:
        case None:
            return ""
        case bool():
            return _("yes") if value else _("no")
        case datetime():
            return date_format(timezone.localtime(value), "D j M Y H:i")
        case date():
            return date_format(value, "j M Y")
        case time():
            return time_format(value, "H:i")
        case int() | float():
            return number_format(value, use_l10n=True)
        case Decimal():
            return number_format(value.normalize(), use_l10n=True) if value else "0"
    return str(value)
