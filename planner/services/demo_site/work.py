"""The demo's damaged tyres and their work orders."""

from datetime import datetime
from decimal import Decimal

from planner.domain.injury import Zone
from planner.models import Machine, Tyre, User, WorkOrder
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import Row, table_of_site
from planner.services.tyres import damage_record, tyre_register
from planner.services.work_orders import (
    work_order_decide_to_repair,
    work_order_hold,
    work_order_receive,
    work_order_reject,
)


def work_load(scene: Scene, supervisor: User) -> None:
    """Tyres, their damage and their orders, as far as the supervisor has decided on them."""
    for row in table_of_site("tyres", scene.site.code):
        received_at = scene.at(-int(row["received_days_ago"]), 9)
        tyre = _tyre(scene, supervisor, row)
        for injury in row["injuries"].split(";"):
            _damage(supervisor, tyre, injury, received_at)
        order = work_order_receive(
            user=supervisor,
            site=scene.site,
            tyre=tyre,
            machine=Machine.objects.get(site=scene.site, code=row["machine"]),
            received_at=received_at,
            needed_by=scene.at(int(row["needed_in_days"]), 6),
        )
        _decide(supervisor, order, row["outcome"])


def _tyre(scene: Scene, supervisor: User, row: Row) -> Tyre:
    return tyre_register(
        user=supervisor,
        site=scene.site,
        serial=row["serial"],
        size_as_written=row["size"],
        hours_run=int(row["hours_run"]),
        tread_depth_mm=Decimal(row["tread_mm"]),
        tread_depth_new_mm=Decimal(row["tread_new_mm"]),
        why="demo site",
    )


def _damage(supervisor: User, tyre: Tyre, injury: str, noted_at: datetime) -> None:
    """Record one injury written as `zone lengthxwidthxdepthxplies` [mm, mm, mm, number]."""
    zone, sizes = injury.split()
    length, width, depth, plies = (int(number) for number in sizes.split("x"))
    damage_record(
        user=supervisor,
        tyre=tyre,
        zone=Zone(zone),
        length_mm=length,
        width_mm=width,
        depth_mm=depth,
        plies=plies,
        noted_at=noted_at,
    )


def _decide(supervisor: User, order: WorkOrder, outcome: str) -> None:
    if outcome == "undecided":
        return
    if outcome == "reject":
        work_order_reject(user=supervisor, work_order=order, why="casing separated beside the cut")
        return
    work_order_decide_to_repair(user=supervisor, work_order=order, why="worth repairing on inspection")
    if outcome == "hold":
        work_order_hold(user=supervisor, work_order=order, why="machine is away for a rebuild")
