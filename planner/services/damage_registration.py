"""Registering a damaged tyre in one go: the tyre if it is new here, its injury, its work order."""

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from planner.domain.errors import InvalidValueError
from planner.domain.fleet import RemovalReason
from planner.domain.injury import Injury
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.size_reading import size_read
from planner.domain.states import OPEN_WORK, TyreState, WorkOrderState
from planner.models import Machine, Site, Tyre, User, WorkOrder
from planner.selectors.access import may_on_site, require_on_site
from planner.services.injury_photos import injury_photo_add
from planner.services.tyre_follows import tyre_follow
from planner.services.tyres import damage_record, tyre_move, tyre_register
from planner.services.work_orders import work_order_decide_to_repair, work_order_receive


@dataclass(frozen=True, slots=True, kw_only=True)
class DamageReport:
    """What is told of a damaged tyre when it comes in; `demounted`: it is off its machine and cold."""

    serial: str
    size_as_written: str
    injury: Injury
    needed_by: datetime
    machine_id: int | None = None
    demounted: bool = False
    note: str = ""
    photo: bytes | None = None


def damage_register(*, user: User, site: Site, report: DamageReport) -> WorkOrder:
    """Put it all on record, or nothing of it; the decision to repair as well where the user may take it.

    Who registers it follows the tyre from then on.

    InvalidValueError where the size can't be read or is not this serial's, where the tyre is still fitted,
    or where it has an open order already, or where the photo is no picture.
    """
    require_on_site(user=user, site=site, action=Action.WORK_ORDER_RECEIVE)
    machine = _machine(site, report.machine_id)
    with transaction.atomic():
        tyre = _tyre(user, site, report)
        damage = damage_record(
            user=user, tyre=tyre, zone=report.injury.zone, length_mm=report.injury.length_mm,
            width_mm=report.injury.width_mm, depth_mm=report.injury.depth_mm, plies=report.injury.plies,
            note=report.note,
        )  # fmt: skip
        if report.photo is not None:
            words = f"{report.injury.zone} of {tyre.serial}, as it came in"
            injury_photo_add(user=user, damage=damage, raw=report.photo, words=words)
        order = work_order_receive(
            user=user, site=site, tyre=tyre, needed_by=report.needed_by, machine=machine, why=report.note
        )
        tyre_follow(user=user, tyre=tyre)
        if may_on_site(user=user, site=site, action=Action.WORK_ORDER_DECIDE):
            work_order_decide_to_repair(user=user, work_order=order)
    return order


def _machine(site: Site, machine_id: int | None) -> Machine | None:
    if machine_id is None:
        return None
    machine = Machine.objects.filter(site=site, pk=machine_id).first()
    if machine is None:
        raise InvalidValueError(_("that machine is not on this site"))
    return machine


def _tyre(user: User, site: Site, report: DamageReport) -> Tyre:
    tyre = Tyre.objects.filter(site=site, serial__iexact=report.serial).first()
    if tyre is None:
        return tyre_register(
            user=user, site=site, serial=report.serial, size_as_written=report.size_as_written
        )
    _refuse_contradiction(tyre, report)
    if tyre.state == TyreState.FITTED and report.demounted:
        tyre_move(
            user=user, tyre=tyre, move="demount", why=report.note, reason=RemovalReason.DAMAGED,
            machine=None, machine_position="",
        )  # fmt: skip
    return tyre


def _refuse_contradiction(tyre: Tyre, report: DamageReport) -> None:
    open_order = WorkOrder.objects.filter(tyre=tyre, state__in=OPEN_WORK).first()
    if open_order is not None:
        state = WorkOrderState(open_order.state).value.replace("_", " ")
        raise InvalidValueError(
            _(
                "{serial} stands in the queue already: {open_order} is {state}. Add the damage there.",
                serial=tyre.serial,
                open_order=open_order,
                state=state,
            )
        )
    if report.size_as_written and str(size_read(report.size_as_written).size) != tyre.size:
        raise InvalidValueError(
            _(
                "{serial} is on file as {size}: check the serial and the size on the tyre's sidewall",
                serial=tyre.serial,
                size=tyre.size,
            )
        )
