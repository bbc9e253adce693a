"""What stands in a record: plain words and figures that outlive the rows they came from."""

import hashlib
import json
from dataclasses import asdict
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from planner.models import (
    Damage,
    HeaterSet,
    HeaterSetPart,
    InjuryPhoto,
    Inspection,
    MaterialUse,
    StageRun,
    TapTakenBack,
    TyreWatch,
    User,
    WorkOrder,
)
from planner.selectors.cure_figures import CureFigures, cure_figures_by_damage
from planner.selectors.cure_spreads import CureSpread, cure_spreads_by_damage
from planner.selectors.order_cures import sets_on_record
from planner.selectors.repair_records.cure_words import cure_log_list, reading_words

Words = dict[str, Any]


def record_content(*, order: WorkOrder) -> Words:
    """The whole record of an order as it stands now; times in UTC, lengths [mm]."""
    damages = list(
        order.damages.select_related("noted_by", "material")
        .prefetch_related("photos__added_by")
        .order_by("pk")
    )
    runs = list(
        order.stage_runs.select_related("position", "heater_set", "damage")
        .prefetch_related("technicians")
        .order_by("started_at", "sequence")
    )
    sets = sets_on_record(order=order)
    figures = cure_figures_by_damage(site=order.site, damages=damages, sets=sets)
    spreads = cure_spreads_by_damage(site=order.site, damages=damages, sets=sets)
    taken_back = [_taken_back(tap) for tap in _taps_taken_back(order)]
    return {
        "site": {"name": order.site.name, "time_zone": order.site.time_zone},
        "order": _order(order),
        "tyre": _tyre(order),
        "injuries": [_injury(each, figures.get(each.pk), spreads.get(each.pk)) for each in damages],
        "stages": [_stage(run) for run in runs],
        # Only where there is one: what was signed before knew no such list, and stays unchanged.
        **({"taken_back": taken_back} if taken_back else {}),
        "watches": [_watch(watch) for watch in _watches(damages)],
        "materials": [_use(use) for use in _uses(order)],
        "sets": _sets(runs),
        "readings": reading_words(order=order),
        "logs": cure_log_list(order=order),
        "inspections": [_inspection(each) for each in order.inspections.select_related("inspected_by")],
    }


def content_sha256(content: Words) -> str:
    """The digest of a record's content, whatever the order of its names."""
    return hashlib.sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()


def instant(at: datetime | None) -> str | None:
    """A moment as it is kept: UTC, to the second."""
    return None if at is None else at.astimezone(UTC).isoformat(timespec="seconds")


def person(user: User) -> str:
    """Somebody's full name, else what they sign in as."""
    return user.get_full_name() or user.get_username()


def _order(order: WorkOrder) -> Words:
    return {
        "code": order.code,
        "state": order.get_state_display(),
        "state_reason": order.state_reason,
        "machine": None if order.machine is None else order.machine.name,
        "received_at": instant(order.received_at),
        "needed_by": instant(order.needed_by),
        "closed_at": instant(order.closed_at),
    }


def _tyre(order: WorkOrder) -> Words:
    tyre = order.tyre
    return {
        "serial": tyre.serial,
        "size": tyre.size,
        "size_as_written": tyre.size_as_written,
        "star_rating": tyre.star_rating,
        "tread_code": tyre.tread_code,
        "maker": tyre.maker,
        "pattern": tyre.pattern,
        "tread_depth_mm": _number(tyre.tread_depth_mm),
        "tread_depth_new_mm": _number(tyre.tread_depth_new_mm),
        "hours_run": tyre.hours_run,
        "repairs_before": tyre.repairs_before,
    }


def _injury(damage: Damage, figures: CureFigures | None, spread: CureSpread | None) -> Words:
    return {
        "id": damage.pk,
        "words": str(damage),
        "zone": damage.zone,
        "length_mm": damage.length_mm,
        "width_mm": damage.width_mm,
        "depth_mm": damage.depth_mm,
        "plies": damage.plies,
        "source": damage.get_source_display(),
        "material": None if damage.material is None else damage.material.name,
        "cushion_mm": damage.cushion_mm,
        "casing_mm": damage.casing_mm,
        "note": damage.note,
        "noted_at": instant(damage.noted_at),
        "noted_by": person(damage.noted_by),
        "chart": None
        if figures is None
        else {"reading": str(figures.reading), "message": str(figures.message)},
        "figures": None if figures is None else asdict(figures),
        "spread": None if spread is None else {**asdict(spread), "words": spread.words},
        "photos": [_photo(photo) for photo in damage.photos.all()],
    }


def _photo(photo: InjuryPhoto) -> Words:
    return {
        "id": photo.pk,
        "words": photo.words,
        "sha256": photo.sha256,
        "added_at": instant(photo.added_at),
        "added_by": person(photo.added_by),
    }


def _stage(run: StageRun) -> Words:
    return {
        "injury": run.damage_id,
        "name": run.name,
        "state": run.get_state_display(),
        "who": [technician.name for technician in run.technicians.all()],
        "position": None if run.position is None else run.position.name,
        "heater_set": None if run.heater_set is None else run.heater_set.name,
        "started_at": instant(run.started_at),
        "ended_at": instant(run.ended_at),
        "note": run.note,
    }


def _taps_taken_back(order: WorkOrder) -> list[TapTakenBack]:
    return list(order.taps_taken_back.select_related("tapped_by", "taken_back_by"))


def _taken_back(tap: TapTakenBack) -> Words:
    return {
        "injury": tap.damage_id,
        "stage": tap.stage,
        "tap": tap.tap,
        "tapped_at": instant(tap.tapped_at),
        "tapped_by": None if tap.tapped_by is None else person(tap.tapped_by),
        "taken_back_at": instant(tap.taken_back_at),
        "taken_back_by": person(tap.taken_back_by),
        "set_is_safe": tap.set_is_safe,
        "why": tap.why,
    }


def _watches(damages: list[Damage]) -> list[TyreWatch]:
    """Who attended the hot injuries, first to last."""
    rows = TyreWatch.objects.filter(damage__in=damages).select_related("technician")
    return list(rows.order_by("signed_on_at", "pk"))


def _watch(watch: TyreWatch) -> Words:
    return {
        "injury": watch.damage_id,
        "who": watch.technician.name,
        "from": instant(watch.signed_on_at),
        "to": instant(watch.signed_off_at),
    }


def _uses(order: WorkOrder) -> list[MaterialUse]:
    return list(order.material_uses.select_related("lot__material", "used_by"))


def _use(use: MaterialUse) -> Words:
    return {
        "material": use.lot.material.name,
        "storage": use.lot.material.storage,
        "lot": use.lot.code,
        "expires_on": _day(use.lot.expires_on),
        "quantity": _number(use.quantity),
        "unit": use.lot.material.unit,
        "used_at": instant(use.used_at),
        "used_by": person(use.used_by),
    }


def _sets(runs: list[StageRun]) -> list[Words]:
    """The sets that were on the tyre, each with its parts."""
    used: dict[int, HeaterSet] = {run.heater_set.pk: run.heater_set for run in runs if run.heater_set}
    parts: dict[int, list[HeaterSetPart]] = {}
    for part in HeaterSetPart.objects.filter(heater_set__in=list(used)).order_by("kind"):
        parts.setdefault(part.heater_set_id, []).append(part)
    return [
        {
            "name": each.name,
            "code": each.code,
            "parts": [
                {"kind": part.get_kind_display(), "serial": part.serial, "state": part.get_state_display(),
                 "inspection_due_on": _day(part.inspection_due_on)}
                for part in parts.get(each.pk, [])
            ],
        }
        for each in used.values()
    ]  # fmt: skip


def _inspection(inspection: Inspection) -> Words:
    return {
        "released": inspection.released,
        "found": inspection.found,
        "inspected_at": instant(inspection.inspected_at),
        "inspected_by": person(inspection.inspected_by),
    }


def _number(value: Decimal | None) -> str | None:
    return None if value is None else format(value.normalize(), "f")


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
