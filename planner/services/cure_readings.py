"""Readings of a cure typed one by one, each with who and when; a slip is corrected beside it."""

from datetime import datetime

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from planner.domain.cure_reading import GaugeReading
from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import Sentence, _
from planner.domain.units import celsius_of, kilopascal_of
from planner.engineering.cure_log.plan import PRESSURE
from planner.engineering.limits import Limits
from planner.models import CureReading, Damage, StageRun, User
from planner.selectors.access import require_on_site
from planner.services.rows import row_add

GAUGE = Limits(-40.0, 250.0, "°C")
"""What a pad's gauge can show; also what a pad should never have, since just that must be on record."""


def cure_reading_add(
    *,
    user: User,
    damage: Damage,
    reading: GaugeReading,
    taken_at: datetime | None = None,
    note: str = "",
) -> CureReading:
    """Record what the gauges show at an injury's cure, now or at `taken_at`.

    The same reading of the same time sent twice is recorded once. A time ahead of the server's clock is
    taken as now.

    Raises:
        InvalidValueError: no pad or bag can have such a figure, which often means another unit.
        ConflictError: another reading of this time is on record: correct that one.

    """
    require_on_site(user=user, site=damage.site, action=Action.WORK_RECORD)
    now = timezone.now()
    row = _row(user, damage, reading, taken_at=min(taken_at or now, now), note=note)
    with transaction.atomic():
        Damage.objects.select_for_update().get(pk=damage.pk)
        known = CureReading.objects.filter(damage=damage, taken_at=row.taken_at, corrects=None).first()
        if known is not None:
            return _same_or_refuse(known, row)
        row_add(user=user, site=damage.site, row=row, action="cure_reading_add", why=note)
    return row


def cure_reading_correct(
    *, user: User, wrong: CureReading, reading: GaugeReading | None, reason: str
) -> CureReading:
    """Put the right reading beside a wrong one; None withdraws it. The wrong one stays on record.

    Raises InvalidValueError without a reason, ConflictError where it was corrected already.
    """
    require_on_site(user=user, site=wrong.site, action=Action.WORK_RECORD)
    if not reason.strip():
        raise InvalidValueError(_("a correction of a reading needs its reason"))
    row = _row(user, wrong.damage, reading, taken_at=wrong.taken_at, note=reason.strip())
    row.corrects = wrong
    with transaction.atomic():
        Damage.objects.select_for_update().get(pk=wrong.damage_id)
        if CureReading.objects.filter(corrects=wrong).exists():
            raise ConflictError(_("{wrong} was corrected already: correct its correction", wrong=wrong))
        row_add(user=user, site=wrong.site, row=row, action="cure_reading_correct", why=reason)
    return row


def _row(
    user: User, damage: Damage, reading: GaugeReading | None, *, taken_at: datetime, note: str
) -> CureReading:
    inside_c, outside_c, pressure_kpa = (None, None, None) if reading is None else _in_core_units(reading)
    return CureReading(
        site=damage.site,
        damage=damage,
        stage_run=_stage_at(damage, taken_at),
        taken_at=taken_at,
        inside_c=inside_c,
        outside_c=outside_c,
        pressure_kpa=pressure_kpa,
        as_typed="" if reading is None else str(reading),
        note=note.strip(),
        recorded_at=timezone.now(),
        recorded_by=user,
    )


def _in_core_units(reading: GaugeReading) -> tuple[float | None, float | None, float | None]:
    """Both pads [°C] and the bags [kPa]; refused where no pad or bag can have such a figure."""
    return (
        _celsius(_("inside pad"), reading.inside, reading.temperature_unit),
        _celsius(_("outside pad"), reading.outside, reading.temperature_unit),
        _kilopascal(reading.pressure, reading.pressure_unit),
    )


def _celsius(name: Sentence, value: float | None, unit: str) -> float | None:
    if value is None:
        return None
    told = celsius_of(value, unit)
    GAUGE.check(_("the {name}, read as {unit},", name=name, unit=unit), told)
    return told


def _kilopascal(value: float | None, unit: str) -> float | None:
    if value is None:
        return None
    told = kilopascal_of(value, unit)
    PRESSURE.check(_("the bags, read as {unit},", unit=unit), told)
    return told


def _stage_at(damage: Damage, at: datetime) -> StageRun | None:
    """The stage that went on then."""
    open_then = Q(ended_at__isnull=True) | Q(ended_at__gte=at)
    return damage.stage_runs.filter(open_then, started_at__lte=at).order_by("-started_at").first()


def _same_or_refuse(known: CureReading, row: CureReading) -> CureReading:
    if _figures(known) == _figures(row):
        return known
    raise ConflictError(
        _("{known} is on record for this time: correct that one, with the reason", known=known)
    )


def _figures(row: CureReading) -> tuple[float | None, ...]:
    figures = (row.inside_c, row.outside_c, row.pressure_kpa)
    return tuple(None if each is None else round(each, 6) for each in figures)
