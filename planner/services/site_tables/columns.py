"""The columns of a table's spreadsheet, from its model: how a cell is read, and what is written into it."""

from collections.abc import Callable, Mapping
from datetime import datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from django.db import models

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.models import Site
from planner.selectors.kept_nouns import noun_model
from planner.services.imports import cells
from planner.services.imports.columns import Column
from planner.services.site_tables.breaks import BREAKS_HELP, breaks_read, breaks_words
from planner.services.site_tables.tables import RULES, SiteTable

_SIZES = frozenset({"smallest_size", "largest_size", "tyre_size"})
_Reader = Callable[[Any], Any]


def table_columns(table: SiteTable, site: Site) -> tuple[Column, ...]:
    """The columns of a table; times are of the site's clock."""
    model = noun_model(table.noun)
    found = [field_column(model._meta.get_field(name), site) for name in table.fields]
    if table.noun == "sitemembership":
        names = ("first_name", "last_name", "email")
        found += [_plain(name, cells.words, "of a new user") for name in names]
    if table.breaks:
        found.append(_plain("breaks", lambda cell: _breaks_tidied(str(cell)), BREAKS_HELP))
    return tuple(found)


def rules_columns(site: Site) -> tuple[Column, ...]:
    """The columns of the site's own rules; each may be left out."""
    fields = (field_column(Site._meta.get_field(name), site) for name in RULES)
    return tuple(_plain(column.field, column.read, column.help) for column in fields)


def field_column(field: Any, site: Site) -> Column:
    """The column of one field; it may be left out where the field has a default or may be empty."""
    return Column(
        name=field.name.replace("_", " "),
        field=field.name,
        read=_reader(field, site),
        required=not (
            field.blank or field.null or field.has_default() or isinstance(field, models.BooleanField)
        ),
        help=_help(field),
    )


def plain_values(row: models.Model, columns: tuple[Column, ...]) -> dict[str, Any]:
    """What a row says, as its cells are read: codes for rows that it names."""
    return {column.field: plain_value(row, column.field) for column in columns}


def plain_value(row: models.Model, name: str) -> Any:
    """One value of a row as its cell is read; None for nothing."""
    if name == "breaks":
        return breaks_words(getattr(row, name).all()) or None
    if name in ("first_name", "last_name", "email"):
        return getattr(getattr(row, "user"), name) or None  # noqa: B009 (a membership's)
    field = row._meta.get_field(name)
    value = getattr(row, name)
    if field.many_to_many:
        return tuple(sorted(code_of(each) for each in value.all())) or None
    if isinstance(value, models.Model):
        return code_of(value)
    return None if value == "" else value


def code_of(row: models.Model) -> str:
    """What a spreadsheet calls a row that another one names: its code, a user by the name to sign in with."""
    return str(getattr(row, "code", None) or getattr(row, "username"))  # noqa: B009 (a user's)


def cell_of(value: Any, site: Site) -> Any:
    """A value as it is written into a cell, to be read again as the same."""
    match value:
        case bool():
            return "yes" if value else "no"
        case tuple():
            return " ".join(value)
        case datetime():
            return f"{value.astimezone(ZoneInfo(site.time_zone)):%Y-%m-%d %H:%M}"
        case time():
            return f"{value:%H:%M}"
    return value


def _plain(name: str, read: _Reader, told: str) -> Column:
    return Column(name=name.replace("_", " "), field=name, read=read, required=False, help=told)


def _reader(field: Any, site: Site) -> _Reader:
    if field.many_to_many:
        return lambda cell: tuple(sorted(cells.words(cell).replace(",", " ").split()))
    if field.name in _SIZES:
        return cells.size
    if field.choices:
        return _choice(field)
    zone = ZoneInfo(site.time_zone)
    readers: Mapping[type, _Reader] = {
        models.BooleanField: cells.yes_or_no, models.DateTimeField: lambda cell: _moment(cell, zone),
        models.DateField: cells.day, models.TimeField: _clock, models.FloatField: _float,
        models.DecimalField: cells.number, models.IntegerField: cells.whole,
    }  # fmt: skip
    return next((read for kind, read in readers.items() if isinstance(field, kind)), cells.words)


def _choice(field: Any) -> _Reader:
    """One of the field's words, with a space or an underscore."""
    known = {str(value): value for value, _words in field.choices}

    def read(cell: Any) -> str:
        text = str(cell).strip()
        found = known.get(text) or known.get(text.lower().replace(" ", "_")) or known.get(text.lower())
        if found is None:
            raise InvalidValueError(_("{text:quoted} is none of {known}", text=text, known=tuple(known)))
        return str(found)

    return read


def _moment(cell: Any, zone: ZoneInfo) -> datetime:
    told = cell if isinstance(cell, datetime) else _told_moment(str(cell))
    return told if told.tzinfo else told.replace(tzinfo=zone)


def _told_moment(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError as fault:
        raise InvalidValueError(
            _("{text:quoted} is no day and time, such as 2026-12-01 06:00", text=text)
        ) from fault


def _float(cell: Any) -> float:
    return float(cells.number(cell))


def _clock(cell: Any) -> time:
    if isinstance(cell, datetime):
        return cell.time()
    try:
        return cell if isinstance(cell, time) else time.fromisoformat(str(cell).strip().zfill(5))
    except ValueError as fault:
        raise InvalidValueError(_("{cell:quoted} is no time of day, such as 06:00", cell=cell)) from fault


def _breaks_tidied(text: str) -> str:
    return " ".join(f"{after // 60}:{after % 60:02}+{minutes}" for after, minutes in breaks_read(text))


def _help(field: Any) -> str:
    if field.choices:
        return "one of " + ", ".join(str(value) for value, _words in field.choices)
    if field.many_to_many:
        return "codes with spaces between them"
    if field.related_model is not None:
        return "its code" if hasattr(field.related_model, "code") else "the name to sign in with"
    kinds: Mapping[type, str] = {
        models.BooleanField: "yes or no", models.DateTimeField: "such as 2026-12-01 06:00, the site's clock",
        models.DateField: "such as 2026-12-01", models.TimeField: "such as 06:00, the site's clock",
    }  # fmt: skip
    told = next((words for kind, words in kinds.items() if isinstance(field, kind)), "")
    return "; ".join(part for part in (str(field.help_text), told) if part)
