"""From faultless rows to the words of the bay; times become minutes after the horizon's start."""

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.problem import BayProblem
from planner.domain.resources import BayRules, HeaterSet, Position, Shift, Technician
from planner.domain.work import Job, Stage
from planner.scheduling.shapes import Row

Clock = Callable[[datetime], int]


def clock_from(origin: datetime) -> Clock:
    """A function from aware times to whole minutes after `origin`."""
    return lambda time: (time - origin) // timedelta(minutes=1)


def problem_build(root: Row) -> BayProblem:
    """The problem of a file without faults."""
    origin = root["horizon"]["start"]
    clock = clock_from(origin)
    positions = tuple(_position(row, clock) for row in root["positions"])
    jobs = tuple(_job(row, clock, positions) for row in root["jobs"])
    return BayProblem(
        time_zone=root["time_zone"],
        origin=origin,
        horizon_end=clock(root["horizon"]["end"]),
        grid_minutes=root["grid_minutes"],
        rules=BayRules(**root["rules"].values),
        technicians=tuple(_technician(row, clock) for row in root["technicians"]),
        positions=positions,
        heater_sets=tuple(_heater_set(row, clock) for row in root["heater_sets"]),
        power_off=_spans(root["power_off"], clock),
        jobs=jobs,
        locked=_locked(root["locked"], clock, jobs),
    )


def _spans(rows: Iterable[Row], clock: Clock) -> tuple[Span, ...]:
    return tuple(Span(clock(row["start"]), clock(row["end"])) for row in rows)


def _technician(row: Row, clock: Clock) -> Technician:
    shifts = tuple(
        Shift(span=Span(clock(shift["start"]), clock(shift["end"])), breaks=_spans(shift["breaks"], clock))
        for shift in row["shifts"]
    )
    return Technician(id=row["id"], skills=frozenset(row["skills"]), shifts=shifts)


def _position(row: Row, clock: Clock) -> Position:
    return Position(id=row["id"], kinds=frozenset(row["kinds"]), closed=_spans(row["closed"], clock))


def _heater_set(row: Row, clock: Clock) -> HeaterSet:
    return HeaterSet(
        id=row["id"],
        channels=row["channels"],
        power_kw=row["power_kw"],
        turnaround_minutes=row["turnaround_minutes"],
        closed=_spans(row["closed"], clock),
    )


def _job(row: Row, clock: Clock, positions: tuple[Position, ...]) -> Job:
    kinds = {position.id: position.kinds for position in positions}
    return Job(
        id=row["id"],
        priority=row["priority"],
        released_at=clock(row["released_at"]),
        needed_by=clock(row["needed_by"]),
        after=tuple(row["after"]),
        heater_sets=tuple(row["heater_sets"] or ()),
        positions={
            kind: tuple(name for name in names if kind in kinds[name])
            for kind, names in (row["positions"] or {}).items()
        },
        stages=tuple(_stage(stage) for stage in row["stages"]),
    )


def _stage(row: Row) -> Stage:
    values = dict(row.values)
    values["crew"] = values["crew"] or 0
    values["min_wait_after"] = values["min_wait_after"] or 0
    return Stage(**values)


def planned_stage_build(row: Row, clock: Clock) -> PlannedStage:
    """One stage of a plan, or of locked work."""
    return PlannedStage(
        name=row["name"],
        start=clock(row["start"]),
        end=clock(row["end"]),
        technicians=tuple(row["technicians"]),
        position=row["position"],
        heater_set=row["heater_set"],
    )


def _locked(rows: Iterable[Row], clock: Clock, jobs: tuple[Job, ...]) -> tuple[PlannedJob, ...]:
    order = {job.id: [stage.name for stage in job.stages] for job in jobs}
    locked = []
    for row in rows:
        stages = sorted(row["stages"], key=lambda stage: order[row["job"]].index(stage["name"]))
        planned = tuple(planned_stage_build(stage, clock) for stage in stages)
        locked.append(PlannedJob(id=row["job"], stages=planned))
    return tuple(locked)
