"""Writing the fleet: meter readings, tyres fitted and taken off."""

from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.fleet import RemovalReason
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import OPEN_WORK, TyreState
from planner.models import Machine, MachineReading, Tyre, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.fleet import tyre_get
from planner.services.rows import row_add, row_change
from planner.services.tyres import tyre_move


def machine_hours_record(
    *, user: User, machine: Machine, hours: int, read_at: datetime | None = None
) -> MachineReading:
    """Keep a meter reading [h]; the machine's hours and those of its fitted tyres follow a newer one.

    InvalidValueError where the meter would run backwards, or faster than the clock.
    """
    require_on_site(user=user, site=machine.site, action=Action.TYRE_RECORD)
    at = read_at or timezone.now()
    if at > timezone.now() + timedelta(minutes=5):
        raise InvalidValueError(_("a meter can't be read in the future: check the day and time"))
    with transaction.atomic():
        row = Machine.objects.select_for_update().get(pk=machine.pk)
        _refuse_impossible(row, hours, at)
        reading = MachineReading(site=row.site, machine=row, read_at=at, hours=hours)
        row_add(user=user, site=row.site, row=reading, action="machine_hours_record")
        run = hours - row.hours_run
        if run > 0:
            row_change(user=user, site=row.site, row=row, values={"hours_run": hours}, action="machine_hours")
            fitted = Tyre.objects.filter(machine=row, state=TyreState.FITTED)
            fitted.update(hours_run=F("hours_run") + run, version=F("version") + 1)
    return reading


def machine_tyre_fit(*, user: User, machine: Machine, position: str, serial: str, why: str = "") -> Tyre:
    """Fit a tyre of this site, by its serial, on a position of the machine."""
    require_on_site(user=user, site=machine.site, action=Action.TYRE_RECORD)
    tyre = tyre_get(user=user, site=machine.site, serial=serial.strip())
    order = WorkOrder.objects.filter(tyre=tyre, state__in=OPEN_WORK).first()
    if order is not None:
        raise ConflictError(
            _(
                "{serial} is in for repair: {order} is {state}",
                serial=tyre.serial,
                order=order,
                state=order.get_state_display(),
            )
        )
    tyre_move(user=user, tyre=tyre, move="fit", why=why, machine=machine, machine_position=position)
    return tyre


def machine_tyre_take_off(
    *, user: User, machine: Machine, serial: str, reason: RemovalReason, why: str = ""
) -> Tyre:
    """Take a fitted tyre off the machine, and say what ended its time there."""
    require_on_site(user=user, site=machine.site, action=Action.TYRE_RECORD)
    tyre = tyre_get(user=user, site=machine.site, serial=serial)
    if tyre.machine_id != machine.pk or tyre.state != TyreState.FITTED:
        raise ConflictError(
            _(
                "{serial} does not sit on {machine} any more: load the page again",
                serial=tyre.serial,
                machine=machine,
            )
        )
    tyre_move(user=user, tyre=tyre, move="demount", why=why, reason=reason, machine=None, machine_position="")
    return tyre


def _refuse_impossible(machine: Machine, hours: int, at: datetime) -> None:
    readings = MachineReading.objects.filter(machine=machine)
    before = readings.filter(read_at__lte=at).order_by("-read_at").first()
    after = readings.filter(read_at__gt=at).order_by("read_at").first()
    if before is not None and hours < before.hours:
        raise InvalidValueError(
            _(
                "the meter said {before} h already: it can't say {hours} h later",
                before=before.hours,
                hours=hours,
            )
        )
    if after is not None and hours > after.hours:
        raise InvalidValueError(
            _(
                "the meter said {after} h after that: it can't have said {hours} h",
                after=after.hours,
                hours=hours,
            )
        )
    if before is not None and hours - before.hours > (at - before.read_at).total_seconds() / 3600 + 1:
        raise InvalidValueError(
            _(
                "{hours} h can't have run since the last reading of {before_hours} h: check both",
                hours=hours - before.hours,
                before_hours=before.hours,
            )
        )
    if before is None and after is None and hours < machine.hours_run:
        raise InvalidValueError(
            _(
                "{machine} is on file with {hours_run} h: it can't say {hours} h now",
                machine=machine,
                hours_run=machine.hours_run,
                hours=hours,
            )
        )
