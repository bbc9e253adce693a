"""The demo's fleet: positions, meter readings, the tyre on each position and what came off before."""

from datetime import timedelta
from decimal import Decimal

from planner.domain.states import OPEN_WORK, TyreState, WorkOrderState
from planner.models import (
    Machine,
    MachinePosition,
    MachineReading,
    RemovalAssumption,
    Tyre,
    TyreDelivery,
    TyreFitting,
    User,
    WorkOrder,
)
from planner.services.audit import audit_event_add
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import Row, table_of_site, table_read, whole

_NEW_TREAD_MM = Decimal(90)
_WEAR_MM_AN_HOUR = Decimal("0.012")
_IN_STORE = 2
_STATES = {"fitted": TyreState.FITTED, "gone": TyreState.OUT_OF_SERVICE}


def fleet_load(scene: Scene, planner: User) -> None:
    """All of it at once, with one audit event; tyres of the queue and past repairs are on file already."""
    machines = {row.code: row for row in Machine.objects.filter(site=scene.site)}
    _positions(scene, machines)
    _readings(scene, machines)
    rows = table_of_site("fittings", scene.site.code)
    _new_tyres(scene, machines, rows)
    _fittings(scene, machines, rows)
    _repaired_long_ago(scene)
    _spares(scene)
    audit_event_add(
        site=scene.site,
        user=planner,
        action="fleet_load",
        row=scene.site,
        what="entered positions, meter readings, fitted tyres and spares of the fleet",
        why="demo site",
    )


def _positions(scene: Scene, machines: dict[str, Machine]) -> None:
    MachinePosition.objects.bulk_create(
        MachinePosition(
            site=scene.site,
            machine=machine,
            code=row["code"],
            name=row["name"],
            sequence=int(row["sequence"]),
        )
        for machine in machines.values()
        for row in table_read("machine_positions")
        if row["kind"] == machine.kind
    )


def _readings(scene: Scene, machines: dict[str, Machine]) -> None:
    MachineReading.objects.bulk_create(
        MachineReading(
            site=scene.site,
            machine=machines[row["machine"]],
            read_at=scene.at(-int(row["read_days_ago"]), 0),
            hours=int(row["hours"]),
        )
        for row in table_of_site("machine_hours", scene.site.code)
    )


def _new_tyres(scene: Scene, machines: dict[str, Machine], rows: list[Row]) -> None:
    """Tyres that sit on machines today or are gone for good; a repaired one goes back to its machine."""
    Tyre.objects.bulk_create(
        _tyre(scene, machines[row["machine"]], row) for row in rows if row["tyre"] in _STATES
    )
    for row in rows:
        if row["tyre"] == "repaired":
            Tyre.objects.filter(site=scene.site, serial=row["serial"]).update(
                state=TyreState.FITTED, machine=machines[row["machine"]], machine_position=row["position"]
            )


def _tyre(scene: Scene, machine: Machine, row: Row) -> Tyre:
    hours = (whole(row["removed_hours"]) or machine.hours_run) - int(row["fitted_hours"])
    tread = max(_NEW_TREAD_MM - hours * _WEAR_MM_AN_HOUR, Decimal(12)).quantize(Decimal("0.1"))
    sits = row["tyre"] == "fitted"
    return Tyre(
        site=scene.site,
        serial=row["serial"],
        size=row["size"],
        size_as_written=row["size"],
        tread_depth_mm=tread,
        tread_depth_new_mm=_NEW_TREAD_MM,
        hours_run=hours,
        made_on=scene.today - timedelta(days=int(row["fitted_days_ago"]) + 200),
        state=_STATES[row["tyre"]],
        machine=machine if sits else None,
        machine_position=row["position"] if sits else "",
    )


def _fittings(scene: Scene, machines: dict[str, Machine], rows: list[Row]) -> None:
    tyres = {tyre.serial: tyre for tyre in Tyre.objects.filter(site=scene.site)}
    TyreFitting.objects.bulk_create(
        TyreFitting(
            site=scene.site,
            tyre=tyres[row["serial"]],
            machine=machines[row["machine"]],
            position=row["position"],
            fitted_at=scene.at(-int(row["fitted_days_ago"]), 0),
            fitted_hours=int(row["fitted_hours"]),
            removed_at=scene.at(-int(row["removed_days_ago"]), 0) if row["removed_days_ago"] else None,
            removed_hours=whole(row["removed_hours"]),
            reason=row["reason"],
        )
        for row in rows
    )


def _repaired_long_ago(scene: Scene) -> None:
    """Two repaired tyres wait in the store; the others were fitted again long ago, and are gone since."""
    orders = WorkOrder.objects.filter(site=scene.site, closed_at__isnull=False)
    ended = orders.filter(tyre__state=TyreState.OFF_MACHINE).exclude(tyre__work_orders__state__in=OPEN_WORK)
    waiting = ended.filter(state=WorkOrderState.REPAIRED).order_by("-closed_at", "-pk")[:_IN_STORE]
    gone = ended.exclude(pk__in=[order.pk for order in waiting]).values("tyre")
    Tyre.objects.filter(pk__in=gone).update(state=TyreState.OUT_OF_SERVICE)


def _spares(scene: Scene) -> None:
    """What is on order, and what is assumed of sizes with few removals."""
    TyreDelivery.objects.bulk_create(
        TyreDelivery(
            site=scene.site,
            size=row["size"],
            quantity=int(row["quantity"]),
            expected_on=scene.today + timedelta(days=int(row["expected_in_days"])),
            reference=row["reference"],
        )
        for row in table_of_site("deliveries", scene.site.code)
    )
    RemovalAssumption.objects.bulk_create(
        RemovalAssumption(site=scene.site, size=row["size"], hours=int(row["hours"]), reason=row["reason"])
        for row in table_of_site("removal_assumptions", scene.site.code)
    )
