"""Technicians, positions and heater sets: ids once, shifts apart, breaks inside their shift."""

from itertools import pairwise

from planner.scheduling.faults import FaultList
from planner.scheduling.problem_format.checks.ids import ids_check
from planner.scheduling.shapes import Row


def resources_check(root: Row, faults: FaultList) -> None:
    """Check what the bay has."""
    for table in ("technicians", "positions", "heater_sets"):
        ids_check(root.get(table, ()), "id", faults)
    for technician in root.get("technicians", ()):
        shifts = technician.get("shifts", ())
        _apart_check(shifts, faults)
        for shift in shifts:
            _breaks_check(shift, faults)


def _apart_check(shifts: list[Row], faults: FaultList) -> None:
    timed = sorted((row for row in shifts if row.has("start", "end")), key=lambda row: row["start"])
    for one, two in pairwise(timed):
        if two["start"] < one["end"]:
            faults.add(two.place, f"overlaps another shift of the same technician, {one.place.text}")


def _breaks_check(shift: Row, faults: FaultList) -> None:
    if not shift.has("start", "end"):
        return
    for pause in shift.get("breaks", ()):
        if not pause.has("start", "end"):
            continue
        if pause["start"] < shift["start"] or pause["end"] > shift["end"]:
            faults.add(pause.place, "must lie inside its shift")
