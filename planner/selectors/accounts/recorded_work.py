"""What a repair really took, from recorded times, lots and meter readings."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from django.db.models import Sum

from planner.costing.lines import CostKind
from planner.costing.work import HeaterSetUse, MaterialUse, RepairWork, StageLabour
from planner.domain.size_reading import size_read
from planner.domain.states import WorkOrderState
from planner.domain.work import StageKind
from planner.models import CostUse, RouteStage, Shift, StageRun, Technician, WorkOrder
from planner.models import MaterialUse as LotUse
from planner.selectors.accounts.planned_work import UNGRADED, Grades, attended_kinds, summed_labour
from planner.selectors.routes import route_get


def recorded_work_get(*, order: WorkOrder, grades: Grades) -> RepairWork:
    """The recorded work of an order; what still runs is not counted."""
    runs = [run for run in order.stage_runs.select_related("damage", "heater_set") if run.ended_at]
    used = {
        (row["kind"], row["item"]): row["total"]
        for row in CostUse.objects.filter(work_order=order)
        .order_by("kind", "item")
        .values("kind", "item")
        .annotate(total=Sum("quantity"))
    }
    return RepairWork(
        labour=summed_labour(_labour(order, runs, grades)),
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


def _labour(order: WorkOrder, runs: list[StageRun], grades: Grades) -> Iterator[StageLabour]:
    attended = attended_kinds(order.site)
    for run in runs:
        if _kind(order, run) in attended:
            share = _minutes(run) / order.site.cures_per_attendant
            yield StageLabour(stage=run.name, grade=grades.of(order.site.watch_skill), minutes=share)
            continue
        for technician in run.technicians.all():
            minutes = _minutes(run)
            yield StageLabour(
                stage=run.name,
                grade=technician.grade or UNGRADED,
                minutes=minutes,
                overtime_minutes=minutes - _rostered(technician, run),
            )


def _kind(order: WorkOrder, run: StageRun) -> str:
    route = order.route or route_get(
        site=order.site, size=size_read(order.tyre.size).size, zone=run.damage.zone
    )
    found = RouteStage.objects.filter(route=route, sequence=run.sequence).values_list("kind", flat=True)
    return found.first() or StageKind.HANDS_ON


def _rostered(technician: Technician, run: StageRun) -> Decimal:
    """The part of the run inside the technician's shifts; all of it before the first shift on file [min]."""
    end = run.ended_at or run.started_at
    shifts = Shift.objects.filter(technician=technician)
    if not shifts.filter(starts_at__lte=run.started_at).exists():
        return _minutes(run)
    during = shifts.filter(starts_at__lt=end, ends_at__gt=run.started_at)
    parts = (_elapsed(max(shift.starts_at, run.started_at), min(shift.ends_at, end)) for shift in during)
    return min(sum(parts, Decimal(0)), _minutes(run))


def _heater_sets(runs: list[StageRun]) -> tuple[HeaterSetUse, ...]:
    held: dict[str, Decimal] = {}
    for run in runs:
        if run.heater_set is not None:
            held[run.heater_set.code] = held.get(run.heater_set.code, Decimal(0)) + _minutes(run)
    return tuple(HeaterSetUse(heater_set=code, minutes=minutes) for code, minutes in held.items())
