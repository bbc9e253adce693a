"""Plan a part of a bay with PyJobShop; run by the Python of its own environment, JSON in and JSON out.

It knows nothing of this project: resources with breaks, and jobs of tasks in order, each on one of some
resources for so many steps. `tests/bench/peer.py` writes the input and reads the output.
"""

import json
import sys
from typing import Any

from pyjobshop import Model  # type: ignore[import-not-found, unused-ignore]


def _planned(part: dict[str, Any]) -> dict[str, Any]:
    model = Model()
    machines = [
        model.add_machine(breaks=[(first, last) for first, last in breaks]) for breaks in part["resources"]
    ]
    for job in part["jobs"]:
        _add(model, machines, job, part["end"])
    model.set_objective(weight_total_tardiness=1)
    result = model.solve(time_limit=part["seconds"], num_workers=part["workers"], display=True)
    if not result.best.tasks:
        return {"status": str(result.status), "bound": None, "tasks": []}
    tasks = [[task.start, task.end, task.resources[0]] for task in result.best.tasks]
    return {"status": str(result.status), "bound": result.lower_bound, "tasks": tasks}


def _add(model: Any, machines: list[Any], job: dict[str, Any], end: int) -> None:
    added = model.add_job(weight=job["weight"], release_date=job["release"], due_date=job["due"])
    before = None
    for task in job["tasks"]:
        here = model.add_task(job=added, earliest_start=job["release"], latest_end=end)
        for number in task["resources"]:
            model.add_mode(here, machines[number], duration=task["length"])
        if before is not None:
            model.add_end_before_start(before, here, delay=task["least"])
            if task["most"] is not None:
                model.add_start_before_end(here, before, delay=-task["most"])
        before = here


if __name__ == "__main__":
    answer = _planned(json.load(sys.stdin))
    sys.stdout.write("\nANSWER " + json.dumps(answer) + "\n")
