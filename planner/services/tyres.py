"""Writing tyres and their damage."""

from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from planner.domain.fleet import RemovalReason
from planner.domain.injury import InjurySource, Zone
from planner.domain.permissions import Action
from planner.domain.size_reading import size_read
from planner.domain.states import TYRE_STATES, TyreState
from planner.models import Damage, Site, Tyre, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.services.accounts.costs import estimate_renew
from planner.services.rows import row_add, row_change
from planner.services.tyre_fittings import fitting_end, fitting_open


def tyre_register(
    *, user: User, site: Site, serial: str, size_as_written: str, why: str = "", **facts: Any
) -> Tyre:
    """Put a tyre on file; its size is read as people write it and kept both ways.

    `facts` are further fields of `Tyre`; ply rating, stars and tread code come from the size where it
    carries them. InvalidValueError where the size cannot be read.
    """
    require_on_site(user=user, site=site, action=Action.TYRE_RECORD)
    reading = size_read(size_as_written)
    marked = {
        "ply_rating": reading.ply_rating,
        "star_rating": reading.star_rating,
        "tread_code": reading.tread_code or "",
    }
    tyre = Tyre(
        site=site, serial=serial, size=str(reading.size), size_as_written=size_as_written, **(marked | facts)
    )
    row_add(user=user, site=site, row=tyre, action="tyre_register", why=why)
    return tyre


def tyre_move(
    *,
    user: User,
    tyre: Tyre,
    move: str,
    why: str = "",
    reason: RemovalReason = RemovalReason.OTHER,
    **facts: Any,
) -> None:
    """Fit, demount, quarantine, clear or take out of service; `facts` may name machine and position.

    Its time on the machine is kept: from a fitting that names a machine until it comes off, for `reason`.
    """
    require_on_site(user=user, site=tyre.site, action=Action.TYRE_RECORD)
    values = {"state": TYRE_STATES.after(tyre.state, move), **facts}
    with transaction.atomic():
        if tyre.state == TyreState.FITTED:
            fitting_end(user=user, tyre=tyre, reason=reason)
        machine = facts.get("machine")
        if move == "fit" and machine is not None:
            position = facts.get("machine_position", "")
            fitting_open(user=user, tyre=tyre, machine=machine, position=position)
        row_change(user=user, site=tyre.site, row=tyre, values=values, action=f"tyre_{move}", why=why)


def damage_record(
    *,
    user: User,
    tyre: Tyre,
    zone: Zone,
    length_mm: int,
    width_mm: int,
    depth_mm: int,
    plies: int = 0,
    source: InjurySource = InjurySource.PROVISIONAL,
    note: str = "",
    work_order: WorkOrder | None = None,
    noted_at: datetime | None = None,
) -> Damage:
    """Record one injury of a tyre [mm]; without an order it waits for the next one to be received."""
    require_on_site(user=user, site=tyre.site, action=Action.DAMAGE_RECORD)
    damage = Damage(
        site=tyre.site,
        tyre=tyre,
        work_order=work_order,
        zone=zone,
        length_mm=length_mm,
        width_mm=width_mm,
        depth_mm=depth_mm,
        plies=plies,
        source=source,
        note=note,
        noted_at=noted_at or timezone.now(),
        noted_by=user,
    )
    row_add(user=user, site=tyre.site, row=damage, action="damage_record", why=note)
    return damage


def damage_measure(
    *,
    user: User,
    damage: Damage,
    length_mm: int,
    width_mm: int,
    depth_mm: int,
    plies: int,
    cushion_mm: int | None = None,
    casing_mm: int | None = None,
    why: str = "",
) -> None:
    """Replace a guessed size by the one measured after skiving; the guess stays in the audit event.

    Cushion and casing below the fill [mm], where they are known, let the model of the cure see them.
    """
    require_on_site(user=user, site=damage.site, action=Action.DAMAGE_RECORD)
    values = {
        "length_mm": length_mm,
        "width_mm": width_mm,
        "depth_mm": depth_mm,
        "plies": plies,
        "cushion_mm": cushion_mm,
        "casing_mm": casing_mm,
        "source": InjurySource.MEASURED,
    }
    with transaction.atomic():
        row_change(user=user, site=damage.site, row=damage, values=values, action="damage_measure", why=why)
        if damage.work_order is not None:
            estimate_renew(user=user, work_order=damage.work_order, why="damage measured")
