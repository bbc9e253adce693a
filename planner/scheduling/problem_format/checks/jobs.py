"""Jobs: ids, eligible resources, the order between jobs."""

from planner.scheduling.faults import FaultList, shown
from planner.scheduling.problem_format.checks.cycles import cycle_find
from planner.scheduling.problem_format.checks.ids import ids_check, ids_of, known_check
from planner.scheduling.problem_format.checks.stages import stages_check
from planner.scheduling.shapes import Row


def jobs_check(root: Row, faults: FaultList) -> None:
    """Check every job with its stages."""
    jobs = root.get("jobs", ())
    ids_check(jobs, "id", faults)
    for job in jobs:
        stages_check(job.get("stages", ()), faults)
        _needs_check(job, faults)
        _eligible_check(job, root, faults)
    _order_check(root, faults)


def _needs_check(job: Row, faults: FaultList) -> None:
    stages = job.get("stages", ())
    if job.get("heater_sets", ()) is None and any(stage.get("block") for stage in stages):
        faults.add(job.at("heater_sets"), "is missing, but the job has a heat block")
    if job.get("positions", ()) is None and any(stage.get("place") for stage in stages):
        faults.add(job.at("positions"), "is missing, but a stage has a place")


def _eligible_check(job: Row, root: Row, faults: FaultList) -> None:
    sets, positions = ids_of(root, "heater_sets"), ids_of(root, "positions")
    known_check(job.get("heater_sets") or (), sets, "heater set", job.at("heater_sets"), faults)
    for kind, names in (job.get("positions") or {}).items():
        known_check(names, positions, "position", job.at("positions").field(kind), faults)


def _order_check(root: Row, faults: FaultList) -> None:
    jobs = [job for job in root.get("jobs", ()) if job.has("id")]
    known = ids_of(root, "jobs")
    for job in jobs:
        known_check(job.get("after", ()), known, "job", job.at("after"), faults)
    before = {job["id"]: tuple(job.get("after", ())) for job in jobs}
    cycle = cycle_find(before)
    if cycle:
        first = next(job for job in jobs if job["id"] == cycle[0])
        faults.add(first.at("after"), f"goes in a circle: {' after '.join(shown(name) for name in cycle)}")
