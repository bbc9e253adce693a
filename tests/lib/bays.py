"""Small bays for tests: one plain day with one plain repair, changed field by field by whoever needs it."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage, Schedule, Watch
from planner.domain.problem import BayProblem
from planner.domain.resources import BayRules, HeaterSet, Position, Shift, Technician
from planner.domain.work import Job, Stage, StageKind

HOUR = 60
MORNING, EVENING = 6 * HOUR, 18 * HOUR
DAY = 24 * HOUR

RULES = BayRules(
    cures_per_attendant=1,
    watch_skill="cure",
    attendant_may_work=True,
    watch_through_breaks=True,
    watch_cool_down=True,
    handover_allowed=True,
    power_limit_kw=16.0,
    channel_limit=4,
)


def technician(name: str, *breaks: Span, start: int = MORNING, end: int = EVENING) -> Technician:
    """Somebody with both skills and one shift."""
    shift = Shift(span=Span(start, end), breaks=breaks)
    return Technician(id=name, skills=frozenset({"prep", "cure"}), shifts=(shift,))


def skilled(name: str, *skills: str, start: int = MORNING, end: int = EVENING) -> Technician:
    """Somebody with these skills alone and one shift."""
    return replace(technician(name, start=start, end=end), skills=frozenset(skills))


def hands_on(name: str, minutes: int, **more: Any) -> Stage:
    """A hands-on stage for one person."""
    return Stage(name=name, kind=StageKind.HANDS_ON, minutes=minutes, **{"crew": 1, "skill": "prep", **more})


BLOCK = (
    hands_on("rig", 30, block=True, place="cure"),
    Stage(name="heat", kind=StageKind.ENERGISED, minutes=120, block=True, place="cure"),
    Stage(name="cool", kind=StageKind.PRESSURISED, minutes=60, block=True, place="cure"),
    hands_on("strip", 30, block=True, place="cure"),
)


def job(name: str = "J1", *stages: Stage, **more: Any) -> Job:
    """A repair, released at midnight, needed by noon; the plain heat block unless stages are given."""
    values: dict[str, Any] = {
        "priority": 1,
        "released_at": 0,
        "needed_by": 12 * HOUR,
        "heater_sets": ("H1",),
        "positions": {"cure": ("C1",), "prep": ("P1",)},
    }
    return Job(id=name, stages=stages or BLOCK, **{**values, **more})


def bay(*jobs: Job, rules: dict[str, Any] | None = None, **more: Any) -> BayProblem:
    """One day, one technician, one heater set, a prep and a cure position; any of it changed by name."""
    values: dict[str, Any] = {
        "time_zone": "UTC",
        "origin": datetime(2026, 3, 2, tzinfo=UTC),
        "horizon_end": DAY,
        "grid_minutes": 15,
        "technicians": (technician("Ada"),),
        "positions": (position("C1", "cure"), position("P1", "prep")),
        "heater_sets": (heater_set("H1"),),
    }
    return BayProblem(jobs=jobs or (job(),), rules=replace(RULES, **rules or {}), **{**values, **more})


def two_blocks(
    end: int,
    *,
    sets: tuple[str, str] = ("H1", "H2"),
    positions: tuple[str, str] = ("C1", "C2"),
    rules: dict[str, Any] | None = None,
) -> BayProblem:
    """Two heat blocks until `end`; Ada and Bo work, Cy attends. J1 matters more, and both are late."""
    jobs = [
        job(name, priority=weight, needed_by=MORNING, heater_sets=(own,), positions={"cure": (place,)})
        for name, weight, own, place in zip(("J1", "J2"), (9, 1), sets, positions, strict=True)
    ]
    return bay(
        *jobs,
        rules={"cures_per_attendant": 2, **(rules or {})},
        horizon_end=end,
        technicians=(skilled("Ada", "prep"), skilled("Bo", "prep"), skilled("Cy", "cure")),
        positions=(position("C1", "cure"), position("C2", "cure")),
        heater_sets=(heater_set("H1"), heater_set("H2")),
    )


def position(name: str, *kinds: str, **more: Any) -> Position:
    """A floor position."""
    return Position(id=name, kinds=frozenset(kinds), **more)


def heater_set(name: str, **more: Any) -> HeaterSet:
    """A set of two channels and 8 kW."""
    return HeaterSet(id=name, **{"channels": 2, "power_kw": 8.0, "turnaround_minutes": 30, **more})


def block_plan(name: str = "J1", start: int = MORNING, *, technician: str = "Ada", **more: Any) -> PlannedJob:
    """The plain heat block of `job`, done by Ada on H1 at C1 from `start` on."""
    held = {"position": "C1", "heater_set": "H1", **more}
    planned, now = [], start
    for stage in BLOCK:
        crew = (technician,) if stage.kind is StageKind.HANDS_ON else ()
        planned.append(
            PlannedStage(name=stage.name, start=now, end=now + stage.minutes, technicians=crew, **held)
        )
        now += stage.minutes
    return PlannedJob(id=name, stages=tuple(planned))


def planned_stage(name: str, start: int, end: int, *technicians: str) -> PlannedStage:
    """A planned hands-on stage, done by Ada unless others are named."""
    return PlannedStage(name=name, start=start, end=end, technicians=technicians or ("Ada",))


def planned_job(name: str, *stages: PlannedStage) -> PlannedJob:
    """A planned job."""
    return PlannedJob(id=name, stages=stages)


def one_stage_schedule(name: str, start: int, end: int) -> Schedule:
    """J1 with its only stage, done by Ada."""
    return Schedule(jobs=(planned_job("J1", planned_stage(name, start, end)),), watch=())


def watch(planned: PlannedJob, attendant: str = "Ada") -> Watch:
    """One attendant over the hot and pressurised part of a planned heat block."""
    hot = [stage for stage in planned.stages if stage.name in ("heat", "cool")]
    return Watch(technician=attendant, span=Span(hot[0].start, hot[-1].end), jobs=(planned.id,))


def block_schedule(*planned: PlannedJob, attendant: str = "Ada") -> Schedule:
    """Planned heat blocks, each attended by Ada or somebody else."""
    jobs = planned or (block_plan(),)
    return Schedule(jobs=jobs, watch=tuple(watch(one, attendant) for one in jobs))


def side_by_side() -> Schedule:
    """The two blocks of `two_blocks` at the same time, both attended by Cy."""
    second = block_plan("J2", technician="Bo", heater_set="H2", position="C2")
    return block_schedule(block_plan(), second, attendant="Cy")


def restaged(planned: PlannedJob, name: str, **changes: Any) -> PlannedJob:
    """The planned job with one stage changed."""
    stages = tuple(replace(stage, **changes) if stage.name == name else stage for stage in planned.stages)
    return replace(planned, stages=stages)
