"""The demo's repairs of past months: recorded stages, use and booked costs."""

from datetime import datetime, timedelta
from decimal import Decimal

from planner.costing.lines import CostKind
from planner.domain.injury import Zone
from planner.domain.size_reading import size_read
from planner.domain.states import WorkOrderState
from planner.models import Damage, HeaterSet, StageRun, Technician, User, WorkOrder
from planner.selectors.accounts.books import assumed_get, site_day
from planner.selectors.accounts.planned_work import grades_get, planned_work_get
from planner.selectors.day_problem.jobs import stages_of
from planner.selectors.routes import route_get
from planner.services.accounts.costs import actual_book, estimate_book, use_record
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import Row, table_of_site
from planner.services.rows import row_add, row_change
from planner.services.tyres import damage_record, tyre_register
from planner.services.work_orders import work_order_receive

_STARTS_AT_HOUR = 7


def past_repairs_load(scene: Scene, supervisor: User, accountant: User) -> None:
    """Repairs that ended before today, each booked into the month in which it ended."""
    for row in table_of_site("past_repairs", scene.site.code):
        order = _received(scene, supervisor, row)
        estimate_book(user=accountant, work_order=order, why="demo site")
        _uses(supervisor, order, Decimal(row["use_percent"]) / 100)
        end = _stages(supervisor, order, int(row["pace_percent"]))
        state = WorkOrderState.REJECTED if row["outcome"] == "failed" else WorkOrderState.REPAIRED
        values = {"state": state, "closed_at": end}
        row_change(
            user=supervisor,
            site=scene.site,
            row=order,
            values=values,
            action="work_order_end",
            why="demo site",
        )
        actual_book(user=accountant, work_order=order, why="demo site")


def _received(scene: Scene, supervisor: User, row: Row) -> WorkOrder:
    at = scene.at(-int(row["ended_days_ago"]) - 2, _STARTS_AT_HOUR)
    tyre = tyre_register(
        user=supervisor, site=scene.site, serial=row["serial"], size_as_written=row["size"],
        hours_run=4000, tread_depth_mm=Decimal(60), tread_depth_new_mm=Decimal(90), why="demo site",
    )  # fmt: skip
    zone, sizes = row["injury"].split()
    length, width, depth, plies = (int(number) for number in sizes.split("x"))
    damage_record(
        user=supervisor, tyre=tyre, zone=Zone(zone), length_mm=length, width_mm=width, depth_mm=depth,
        plies=plies, noted_at=at,
    )  # fmt: skip
    return work_order_receive(
        user=supervisor,
        site=scene.site,
        tyre=tyre,
        received_at=at,
        needed_by=at + timedelta(days=4),
        why="demo site",
    )


def _uses(supervisor: User, order: WorkOrder, share: Decimal) -> None:
    """Lots, meter readings, trips and the inspection, so much above or below what was expected."""
    assumed = assumed_get(site=order.site, day=site_day(order.site))
    work = planned_work_get(order=order, assumed=assumed, grades=grades_get(site=order.site))
    used = [
        (CostKind.MATERIAL, each.material, each.quantity * share, f"lot {order.number}")
        for each in work.materials
    ]
    used += [
        (CostKind.ENERGY, "bay meter", work.energy_kwh * share, "reading before and after"),
        (CostKind.TRANSPORT, "trip", work.trips, ""),
        (CostKind.INSPECTION, "final inspection", work.inspections, ""),
    ]
    for kind, item, quantity, evidence in used:
        use_record(
            user=supervisor, work_order=order, kind=kind, item=item,
            quantity=quantity.quantize(Decimal("0.01")), evidence=evidence,
        )  # fmt: skip


def _stages(supervisor: User, order: WorkOrder, pace_percent: int) -> datetime:
    """Every stage of the route, one after another, at the pace; returns when the last one ended."""
    damage = order.damages.get()
    route = route_get(site=order.site, size=size_read(order.tyre.size).size, zone=damage.zone)
    technicians = list(Technician.objects.filter(site=order.site, active=True)[:3])
    heater_set = HeaterSet.objects.filter(site=order.site, active=True).first()
    at = order.received_at
    for sequence, stage in enumerate(stages_of(route, damage), start=1):
        end = at + timedelta(minutes=max(stage.minutes * pace_percent // 100, 1))
        run = _run(order, damage, sequence, stage.name, at, end)
        run.heater_set = heater_set if stage.block else None
        row_add(user=supervisor, site=order.site, row=run, action="stage_run_finish", why="demo site")
        run.technicians.set(technicians[: stage.crew])
        at = end
    return at


def _run(
    order: WorkOrder, damage: Damage, sequence: int, name: str, start: datetime, end: datetime
) -> StageRun:
    return StageRun(
        site=order.site,
        work_order=order,
        damage=damage,
        sequence=sequence,
        name=name,
        state="done",
        started_at=start,
        ended_at=end,
    )
