"""Keeping which tyre sat where: opened when a tyre is fitted, ended when it comes off."""

from datetime import datetime

from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.fleet import RemovalReason
from planner.domain.sentences import _
from planner.models import Machine, MachinePosition, Tyre, TyreFitting, User
from planner.services.rows import row_add, row_change


def fitting_open(
    *, user: User, tyre: Tyre, machine: Machine, position: str, at: datetime | None = None
) -> TyreFitting:
    """Record that the tyre sits on the position from now on, by the clock and the machine's meter.

    InvalidValueError where the position takes another size or is not there; ConflictError where it is taken.
    """
    _refuse_misfit(tyre, machine, position)
    sits = TyreFitting.objects.filter(machine=machine, position=position, removed_at__isnull=True)
    other = sits.select_related("tyre").first() if position else None
    if other is not None:
        raise ConflictError(_("{serial} sits there already: take it off first", serial=other.tyre.serial))
    row = TyreFitting(
        site=tyre.site,
        tyre=tyre,
        machine=machine,
        position=position,
        fitted_at=at or timezone.now(),
        fitted_hours=machine.hours_run,
    )
    row_add(user=user, site=tyre.site, row=row, action="tyre_fitting_open")
    return row


def fitting_end(
    *, user: User, tyre: Tyre, reason: RemovalReason = RemovalReason.OTHER, at: datetime | None = None
) -> None:
    """Record that the tyre came off; nothing where it was never recorded as fitted."""
    rows = TyreFitting.objects.filter(tyre=tyre, removed_at__isnull=True).select_related("machine", "tyre")
    row = rows.first()
    if row is None:
        return
    values = {
        "removed_at": max(at or timezone.now(), row.fitted_at),
        "removed_hours": max(row.machine.hours_run, row.fitted_hours),
        "reason": reason,
    }
    row_change(user=user, site=tyre.site, row=row, values=values, action="tyre_fitting_end")


def _refuse_misfit(tyre: Tyre, machine: Machine, position: str) -> None:
    positions = list(MachinePosition.objects.filter(machine=machine).select_related("machine"))
    place = next((each for each in positions if each.code == position), None)
    if place is None and positions:
        known = ", ".join(each.code for each in positions)
        raise InvalidValueError(
            _(
                "{machine} has no position {position}; it has {known}",
                machine=machine,
                position=position or "of that name",
                known=known,
            )
        )
    size = place.size if place else machine.tyre_size
    if size and tyre.size != size:
        raise InvalidValueError(
            _(
                "{place} takes {size}; {serial} is {tyre_size}",
                place=place or machine,
                size=size,
                serial=tyre.serial,
                tyre_size=tyre.size,
            )
        )
