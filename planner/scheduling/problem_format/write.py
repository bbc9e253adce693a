"""The canonical writer of `bay-problem/1`; reading what it wrote gives the same problem."""

import json
from collections.abc import Callable, Iterable
from typing import Any

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedStage
from planner.domain.problem import BayProblem
from planner.domain.resources import HeaterSet, Position, Technician
from planner.domain.work import Job, Stage
from planner.scheduling.clock import bay_clock
from planner.scheduling.problem_format.tables import PROBLEM_FORMAT, RULES

Stamp = Callable[[int], str]
Table = dict[str, Any]


def problem_write(problem: BayProblem) -> bytes:
    """The problem as UTF-8 JSON, times on the clock of its time zone."""
    return json_write(_problem(problem))


def json_write(value: Table) -> bytes:
    """A table as UTF-8 JSON that people can read."""
    return (json.dumps(value, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode()


def stamp_for(problem: BayProblem) -> Stamp:
    """A function from minutes after the horizon's start to ISO 8601 with the offset of the bay's clock."""
    clock = bay_clock(problem)
    return lambda minutes: clock(minutes).isoformat()


def _problem(problem: BayProblem) -> Table:
    stamp = stamp_for(problem)
    return {
        "format": PROBLEM_FORMAT,
        "time_zone": problem.time_zone,
        "horizon": _span(Span(0, problem.horizon_end), stamp),
        "grid_minutes": problem.grid_minutes,
        "rules": {name: getattr(problem.rules, name) for name in RULES.fields},
        "technicians": [_technician(technician, stamp) for technician in problem.technicians],
        "positions": [_position(position, stamp) for position in problem.positions],
        "heater_sets": [_heater_set(heater_set, stamp) for heater_set in problem.heater_sets],
        "power_off": _spans(problem.power_off, stamp),
        "jobs": [_job(job, stamp) for job in problem.jobs],
        "locked": [
            {"job": job.id, "stages": [planned_stage_table(stage, stamp) for stage in job.stages]}
            for job in problem.locked
        ],
    }


def _span(span: Span, stamp: Stamp) -> Table:
    return {"start": stamp(span.start), "end": stamp(span.end)}


def _spans(spans: Iterable[Span], stamp: Stamp) -> list[Table]:
    return [_span(span, stamp) for span in spans]


def _technician(technician: Technician, stamp: Stamp) -> Table:
    shifts = [
        {**_span(shift.span, stamp), "breaks": _spans(shift.breaks, stamp)} for shift in technician.shifts
    ]
    return {"id": technician.id, "skills": sorted(technician.skills), "shifts": shifts}


def _position(position: Position, stamp: Stamp) -> Table:
    return {
        "id": position.id,
        "kinds": sorted(position.kinds),
        "closed": _spans(position.closed, stamp),
    }


def _heater_set(heater_set: HeaterSet, stamp: Stamp) -> Table:
    return {
        "id": heater_set.id,
        "channels": heater_set.channels,
        "power_kw": heater_set.power_kw,
        "turnaround_minutes": heater_set.turnaround_minutes,
        "closed": _spans(heater_set.closed, stamp),
    }


def _job(job: Job, stamp: Stamp) -> Table:
    return {
        "id": job.id,
        "priority": job.priority,
        "released_at": stamp(job.released_at),
        "needed_by": stamp(job.needed_by),
        "after": list(job.after),
        "heater_sets": list(job.heater_sets),
        "positions": {kind: list(names) for kind, names in job.positions.items()},
        "stages": [_stage(stage) for stage in job.stages],
    }


def _stage(stage: Stage) -> Table:
    hands_on: Table = {"crew": stage.crew, "skill": stage.skill, "pausable": stage.pausable}
    waits = {"min_wait_after": stage.min_wait_after or None, "max_wait_after": stage.max_wait_after}
    return {
        "name": stage.name,
        "kind": stage.kind.value,
        "minutes": stage.minutes,
        **(hands_on if stage.crew else {}),
        "block": stage.block,
        "place": stage.place,
        **{name: wait for name, wait in waits.items() if wait is not None},
    }


def planned_stage_table(stage: PlannedStage, stamp: Stamp) -> Table:
    """One planned stage as plans and locked work write it."""
    technicians = {"technicians": list(stage.technicians)} if stage.technicians else {}
    return {
        "name": stage.name,
        **_span(stage.span, stamp),
        **technicians,
        "position": stage.position,
        "heater_set": stage.heater_set,
    }
