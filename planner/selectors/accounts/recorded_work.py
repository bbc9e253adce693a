"""What a repair really took, from recorded times, lots and meter readings."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from django.db.models import Sum

from planner.costing.lines import CostKind
from planner.costing.work import HeaterSetUse, MaterialUse, RepairWork, StageLabour
from planner.domain.states import WorkOrderState
from planner.domain.work import StageKind
from planner.models import CostUse, Shift, StageRun, WorkOrder
from planner.models import MaterialUse as LotUse
from planner.selectors.accounts.bay import UNGRADED, CostedBay
from planner.selectors.accounts.planned_work import attended_kinds, summed_labour


def recorded_work_get(*, order: WorkOrder, bay: CostedBay) -> RepairWork:
    """The recorded work of an order; what still runs is not counted."""
    rows = order.stage_runs.select_related("heater_set").prefetch_related("technicians")
    runs = [run for run in rows if run.ended_at]
    used = {
        (row["kind"], row["item"]): row["total"]
        for row in CostUse.objects.filter(work_order=order)
        .order_by("kind", "item")
        .values("kind", "item")
        .annotate(total=Sum("quantity"))
    }
    return RepairWork(
        labour=summed_labour(_labour(order, runs, bay)),
        materials=_materials(order, used),
        energy_kwh=_of_kind(used, CostKind.ENERGY),
        heater_sets=_heater_sets(runs),
        bay_minutes=sum((_minutes(run) for run in runs if run.position_id), Decimal(0)),
        trips=_of_kind(used, CostKind.TRANSPORT),
        inspections=_of_kind(used, CostKind.INSPECTION),
        failure=Decimal(order.state == WorkOrderState.REJECTED),
    )


def _materials(order: WorkOrder, used: dict[tuple[str, str], Decimal]) -> tuple[MaterialUse, ...]:
    """What lots show, by the material's code, and what was recorded without a lot of the store."""
    totals = {item: quantity for (kind, item), quantity in used.items() if kind == CostKind.MATERIAL}
    lots = LotUse.objects.filter(work_order=order).order_by().values_list("lot__material__code")
    for code, quantity in lots.annotate(Sum("quantity")):
        totals[code] = totals.get(code, Decimal(0)) + quantity
    return tuple(MaterialUse(material=item, quantity=quantity) for item, quantity in totals.items())


def _of_kind(used: dict[tuple[str, str], Decimal], kind: CostKind) -> Decimal:
    return sum((quantity for (found, _), quantity in used.items() if found == kind), Decimal(0))


def _minutes(run: StageRun) -> Decimal:
    return _elapsed(run.started_at, run.ended_at or run.started_at)


def _elapsed(start: datetime, end: datetime) -> Decimal:
    """Whole seconds as minutes, so that a sheet never depends on a clock's microseconds [min]."""
    return Decimal(max(int((end - start).total_seconds()), 0)) / 60


def _labour(order: WorkOrder, runs: list[StageRun], bay: CostedBay) -> Iterator[StageLabour]:
    attended, kinds, rosters = attended_kinds(order.site), _stage_kinds(order, bay), _rosters(runs)
    for run in runs:
        if kinds.get((run.damage_id, run.sequence)) in attended:
            share = _minutes(run) / order.site.cures_per_attendant
            yield StageLabour(stage=run.name, grade=bay.grade_of(order.site.watch_skill), minutes=share)
            continue
        for technician in run.technicians.all():
            minutes = _minutes(run)
            yield StageLabour(
                stage=run.name,
                grade=technician.grade or UNGRADED,
                minutes=minutes,
                overtime_minutes=minutes - _rostered(rosters.get(technician.pk, []), run),
            )


def _stage_kinds(order: WorkOrder, bay: CostedBay) -> dict[tuple[int, int], StageKind]:
    """The kind of every stage, by injury and place in its route."""
    return {
        (damage.pk, stage.sequence): StageKind(stage.kind)
        for damage in order.damages.all()
        for stage in bay.route_of(order, damage.zone).stages.all()
    }


def _rosters(runs: list[StageRun]) -> dict[int, list[Shift]]:
    """The shifts of everybody who worked, by technician, up to the end of the work."""
    people = {technician.pk for run in runs for technician in run.technicians.all()}
    last = max((run.ended_at or run.started_at for run in runs), default=None)
    rosters: dict[int, list[Shift]] = {}
    if people and last:
        for shift in Shift.objects.filter(technician__in=people, starts_at__lt=last):
            rosters.setdefault(shift.technician_id, []).append(shift)
    return rosters


def _rostered(shifts: list[Shift], run: StageRun) -> Decimal:
    """The part of the run inside the shifts; all of it before the first shift on file [min]."""
    end = run.ended_at or run.started_at
    if not any(shift.starts_at <= run.started_at for shift in shifts):
        return _minutes(run)
    during = [shift for shift in shifts if shift.starts_at < end and shift.ends_at > run.started_at]
    parts = (_elapsed(max(shift.starts_at, run.started_at), min(shift.ends_at, end)) for shift in during)
    return min(sum(parts, Decimal(0)), _minutes(run))


def _heater_sets(runs: list[StageRun]) -> tuple[HeaterSetUse, ...]:
    held: dict[str, Decimal] = {}
    for run in runs:
        if run.heater_set is not None:
            held[run.heater_set.code] = held.get(run.heater_set.code, Decimal(0)) + _minutes(run)
    return tuple(HeaterSetUse(heater_set=code, minutes=minutes) for code, minutes in held.items())
