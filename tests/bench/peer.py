"""PyJobShop as a peer, on the part of a bay that it can express (`part_bay.py`).

It needs an older OR-Tools and so an environment of its own:

    uv venv .peer && uv pip install --python .peer/bin/python --require-hashes -r .locks/bench.txt
"""

import json
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.work import Job
from planner.solver.limits import SolveLimits
from tests.bench.part_bay import away

SCRIPT = Path(__file__).with_name("peer_plan.py")
START_SECONDS = 60.0
"""What it may take beyond its limit before it counts as failed."""
FOUND = re.compile(r"^#\d+\s+([\d.]+)s\s+best:(\d+)", re.MULTILINE)


def peer_plan(
    problem: BayProblem, limits: SolveLimits, python: Path
) -> tuple[Schedule | None, int | None, list[tuple[float, int]]]:
    """A plan of a part of a bay, its bound, and what it had reached when [s, priority-weighted min]."""
    done = subprocess.run(
        [python, SCRIPT],
        input=json.dumps(_part(problem, limits)),
        capture_output=True,
        text=True,
        check=True,
        timeout=(limits.seconds or 0) + START_SECONDS,
    )
    log, _, answer = done.stdout.rpartition("ANSWER ")
    found, grid = json.loads(answer), problem.grid_minutes
    curve = [(float(seconds), grid * int(best)) for seconds, best in FOUND.findall(log)]
    if not found["tasks"]:
        return None, None, curve
    return Schedule(jobs=tuple(_jobs(problem, found["tasks"])), watch=()), _bound(found, grid), curve


def _bound(found: dict[str, Any], grid: int) -> int | None:
    return None if found["bound"] is None else max(0, int(found["bound"]) * grid)


def _part(problem: BayProblem, limits: SolveLimits) -> dict[str, Any]:
    """The bay in grid steps, its resources by number: technicians first, then heater sets."""
    grid, end = problem.grid_minutes, problem.horizon_end
    closed = [away(one, end) for one in problem.technicians]
    closed += [list(one.closed) for one in problem.heater_sets]
    return {
        "end": end // grid,
        "seconds": limits.seconds,
        "workers": limits.workers,
        "resources": [[(span.start // grid, span.end // grid) for span in spans] for spans in closed],
        "jobs": [_job(problem, job) for job in problem.jobs],
    }


def _job(problem: BayProblem, job: Job) -> dict[str, Any]:
    grid = problem.grid_minutes
    return {
        "weight": job.priority,
        "release": -(-job.released_at // grid),
        "due": job.needed_by // grid,
        "tasks": [_task(problem, job, index) for index in range(len(job.stages))],
    }


def _task(problem: BayProblem, job: Job, index: int) -> dict[str, Any]:
    grid, stage = problem.grid_minutes, job.stages[index]
    before = job.stages[index - 1] if index else None
    most = before.max_wait_after if before else None
    return {
        "length": -(-stage.minutes // grid),
        "resources": list(_able(problem, job, index)),
        "least": -(-before.min_wait_after // grid) if before else 0,
        "most": None if most is None else most // grid,
    }


def _able(problem: BayProblem, job: Job, index: int) -> Iterator[int]:
    stage = job.stages[index]
    if stage.block:
        sets = [one.id for one in problem.heater_sets]
        yield from (len(problem.technicians) + sets.index(one) for one in job.heater_sets)
    else:
        yield from (n for n, one in enumerate(problem.technicians) if stage.skill in one.skills)


def _jobs(problem: BayProblem, tasks: list[list[int]]) -> Iterator[PlannedJob]:
    left = iter(tasks)
    for job in problem.jobs:
        yield PlannedJob(
            id=job.id,
            stages=tuple(_stage(problem, job, index, *next(left)) for index in range(len(job.stages))),
        )


def _stage(problem: BayProblem, job: Job, index: int, start: int, end: int, resource: int) -> PlannedStage:
    people = problem.technicians
    block = job.stages[index].block
    return PlannedStage(
        name=job.stages[index].name,
        start=start * problem.grid_minutes,
        end=end * problem.grid_minutes,
        technicians=() if block else (people[resource].id,),
        position=None,
        heater_set=problem.heater_sets[resource - len(people)].id if block else None,
    )
