"""What a row's fields must say together, beyond what its model can check by itself."""

from collections.abc import Callable, Mapping
from zoneinfo import available_timezones

from dateutil.rrule import rrulestr
from django.core.exceptions import ValidationError
from django.db import models

from planner.domain.cure_limits import KINDS, CureLimit, limit_check
from planner.domain.errors import InvalidValueError
from planner.domain.key_text import key_text
from planner.domain.sentences import _
from planner.domain.size_reading import size_read
from planner.domain.sizes import SizeRange
from planner.models import (
    CureLimitRow,
    HeaterSetFit,
    Machine,
    MachinePosition,
    PatternBreak,
    Position,
    RosterPattern,
    Site,
)
from planner.selectors.cure_limits import CureLimitTable, cure_limit_table_get


def noun_check(row: models.Model) -> None:
    """Raise InvalidValueError where the row contradicts itself; keys and sizes come to their normal form."""
    _keys_tidy(row)
    check = _CHECKS.get(type(row))
    if check is not None:
        check(row)


def _keys_tidy(row: models.Model) -> None:
    """Texts that tell the row from others are written in one way."""
    kept = (each for each in row._meta.constraints if isinstance(each, models.UniqueConstraint))
    for name in {name for each in kept for name in each.fields}:
        value = getattr(row, name)
        if isinstance(value, str):
            try:
                setattr(row, name, key_text(value))
            except InvalidValueError as fault:
                raise InvalidValueError(_("{name}: {fault}", name=name, fault=fault)) from ValidationError(
                    {name: str(fault)}
                )


def _fit(row: HeaterSetFit) -> None:
    smallest, largest = size_read(row.smallest_size).size, size_read(row.largest_size).size
    SizeRange(smallest=smallest, largest=largest)
    row.smallest_size, row.largest_size = str(smallest), str(largest)


def _position(row: Position) -> None:
    row.largest_size = str(size_read(row.largest_size).size) if row.largest_size else ""


def _machine(row: Machine | MachinePosition) -> None:
    row.tyre_size = str(size_read(row.tyre_size).size) if row.tyre_size else ""


def _pattern(row: RosterPattern) -> None:
    if "COUNT" in row.recurrence.upper() or "DTSTART" in row.recurrence.upper():
        raise InvalidValueError(_("a roster's recurrence has no start and no count: set first and last day"))
    try:
        rrulestr(row.recurrence)
    except (ValueError, TypeError, KeyError):
        told = _(
            "{recurrence:quoted} is no recurrence rule of RFC 5545, such as FREQ=WEEKLY;BYDAY=MO,TU",
            recurrence=row.recurrence,
        )
        raise InvalidValueError(told) from ValidationError({"recurrence": told})


def _pattern_break(row: PatternBreak) -> None:
    starts_at, ends_at = row.pattern.starts_at, row.pattern.ends_at
    minutes = (ends_at.hour - starts_at.hour) * 60 + ends_at.minute - starts_at.minute
    length = minutes if minutes > 0 else minutes + 24 * 60
    if row.after_minutes + row.minutes > length:
        raise InvalidValueError(_("a break must lie inside its shift"))


def _cure_limit(row: CureLimitRow) -> None:
    """A figure that a cure can have, and that goes with every other limit that may hold beside it."""
    if row.limit not in KINDS:
        return  # told with the other fields
    limit_check(CureLimit(row.limit), row.value)
    if row.place and row.limit != CureLimit.RELEASE:
        raise InvalidValueError(_("only a release temperature has a place where it is taken"))
    others = (each for each in cure_limit_table_get(site=row.site).rows if each.pk != row.pk)
    CureLimitTable(rows=(*others, row)).check()


def _site(row: Site) -> None:
    if row.time_zone not in available_timezones():
        raise InvalidValueError(
            _("{time_zone:quoted} is no IANA time zone (such as Australia/Perth)", time_zone=row.time_zone)
        )


_CHECKS: Mapping[type[models.Model], Callable[..., None]] = {
    HeaterSetFit: _fit,
    Position: _position,
    Machine: _machine,
    MachinePosition: _machine,
    RosterPattern: _pattern,
    PatternBreak: _pattern_break,
    CureLimitRow: _cure_limit,
    Site: _site,
}
