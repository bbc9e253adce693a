"""The demo's floor, heater sets, machines, a closure and an isolation."""

from datetime import timedelta
from decimal import Decimal

from planner.domain.heater_parts import PartKind
from planner.models import HeaterSet, HeaterSetPart, Position, PositionKind
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import Row, table_of_site, table_read
from planner.services.heater_parts import part_move


def bay_load(scene: Scene) -> None:
    """Positions, sets with their parts and fits, machines, and when something is not there."""
    for row in table_read("position_kinds"):
        scene.add("positionkind", **row)
    for row in table_of_site("positions", scene.site.code):
        kinds = list(PositionKind.objects.filter(site=scene.site, code__in=row["kinds"].split()))
        names = {name: row[name] for name in ("code", "name", "largest_size")}
        scene.add("position", kinds=kinds, **names)
    for row in table_of_site("heater_sets", scene.site.code):
        _heater_set(scene, row)
    for row in table_of_site("machines", scene.site.code):
        numbers = {name: int(row[name]) for name in ("priority", "hours_run")}
        names = {name: row[name] for name in ("code", "name", "kind", "tyre_size")}
        scene.add("machine", **names, **numbers)
    _not_there(scene)


def _heater_set(scene: Scene, row: Row) -> None:
    heater_set = scene.add(
        "heaterset",
        code=row["code"],
        name=row["name"],
        channels=int(row["channels"]),
        power_kw=Decimal(row["power_kw"]),
        turnaround_minutes=int(row["turnaround_minutes"]),
    )
    due = scene.today + timedelta(days=int(row["inspection_in_days"]))
    for kind in PartKind:
        serial = f"{row['code']}-{kind.value.replace('_', '-')}"
        scene.add(
            "heatersetpart", heater_set=heater_set, kind=kind.value, serial=serial, inspection_due_on=due
        )
    for fit in table_read("heater_set_fits"):
        if fit["family"] == row["family"]:
            sizes = {name: fit[name] for name in ("zone", "smallest_size", "largest_size")}
            scene.add("heatersetfit", heater_set=heater_set, **sizes)


def _not_there(scene: Scene) -> None:
    """Parts that are out, a position that is closed, the supply that is isolated."""
    for row in table_read("parts_out"):
        for part in HeaterSetPart.objects.filter(
            site=scene.site, heater_set__code=row["heater_set"], kind=row["kind"]
        ):
            part_move(user=scene.administrator, part=part, move="take_out", why=row["why"])
    position = Position.objects.filter(site=scene.site, code="C2").first()
    heater_set = HeaterSet.objects.filter(site=scene.site, code="H2").first()
    if position is None or heater_set is None:
        return
    closed = {"starts_at": scene.at(2, 6), "ends_at": scene.at(2, 12)}
    scene.add("closure", position=position, reason="floor drain being repaired", **closed)
    away = {"starts_at": scene.at(5, 6), "ends_at": scene.at(6, 17)}
    scene.add("closure", heater_set=heater_set, reason="thermocouples away for calibration", **away)
    hours = {"starts_at": scene.at(4, 10), "ends_at": scene.at(4, 11, 30)}
    scene.add("isolation", reason="switchboard inspection: supply isolated", **hours)
