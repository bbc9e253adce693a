"""Locked work: known jobs, stages and resources, each once."""

from planner.scheduling.faults import FaultList, shown
from planner.scheduling.problem_format.checks.ids import ids_check, ids_of, known_check
from planner.scheduling.shapes import Row


def locked_check(root: Row, faults: FaultList) -> None:
    """Check the locked stages against the tables they name."""
    locked = root.get("locked", ())
    ids_check(locked, "job", faults)
    for row in locked:
        ids_check(row.get("stages", ()), "name", faults)
        _job_check(row, root, faults)
        for stage in row.get("stages", ()):
            _resources_check(stage, root, faults)


def _job_check(row: Row, root: Row, faults: FaultList) -> None:
    known = ids_of(root, "jobs")
    if known is None or not row.has("job"):
        return
    if row["job"] not in known:
        faults.add(row.at("job"), f"there is no job {shown(row['job'])}")
        return
    job = next(job for job in root["jobs"] if job["id"] == row["job"])
    if not job.has("stages") or not all(stage.has("name") for stage in job["stages"]):
        return
    names = {stage["name"] for stage in job["stages"]}
    for stage in row.get("stages", ()):
        if stage.has("name") and stage["name"] not in names:
            faults.add(stage.at("name"), f"job {shown(row['job'])} has no stage {shown(stage['name'])}")


def _resources_check(stage: Row, root: Row, faults: FaultList) -> None:
    technicians = ids_of(root, "technicians")
    known_check(stage.get("technicians", ()), technicians, "technician", stage.at("technicians"), faults)
    for name, noun in (("position", "position"), ("heater_set", "heater set")):
        known = ids_of(root, f"{name}s")
        if stage.get(name) is not None and known is not None and stage[name] not in known:
            faults.add(stage.at(name), f"there is no {noun} {shown(stage[name])}")
