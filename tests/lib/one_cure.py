"""A small bay with one cured tyre, for the pages' tests."""

from datetime import UTC, datetime

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage, Schedule, Watch
from planner.domain.problem import BayProblem
from planner.domain.resources import BayRules, HeaterSet, Position, Shift, Technician
from planner.domain.work import Job, Stage, StageKind

BLOCK = (
    ("rig", StageKind.HANDS_ON, 30),
    ("warm", StageKind.ENERGISED, 60),
    ("hold", StageKind.ENERGISED, 120),
    ("cool", StageKind.PRESSURISED, 60),
    ("strip", StageKind.HANDS_ON, 30),
)


def stage(name: str, kind: StageKind, minutes: int, **more: object) -> Stage:
    """A stage that one technician can do."""
    hands_on = {"crew": 1, "skill": "cure"} if kind is StageKind.HANDS_ON else {}
    return Stage(name=name, kind=kind, minutes=minutes, **hands_on, **more)  # type: ignore[arg-type]


def job(id: str = "WO-0001") -> Job:
    """Prepare, dry, cure on set A, all on the floor of the bay."""
    block = tuple(stage(name, kind, minutes, block=True, place="cure") for name, kind, minutes in BLOCK)
    return Job(
        id=id,
        priority=5,
        released_at=0,
        needed_by=600,
        stages=(
            stage("prepare", StageKind.HANDS_ON, 60, place="prep"),
            stage("dry", StageKind.WAIT, 30, place="prep"),
            *block,
        ),
        heater_sets=("set-a",),
        positions={"prep": ("p1",), "cure": ("c1",)},
    )


def problem(**changes: object) -> BayProblem:
    """Two technicians from 06:00 to 18:00 for two days in Perth, one set, two positions."""
    shifts = tuple(
        Shift(span=Span(day, day + 720), breaks=(Span(day + 300, day + 330),)) for day in (0, 1440)
    )
    given: dict[str, object] = {
        "time_zone": "Australia/Perth",
        "origin": datetime(2026, 11, 22, 22, 0, tzinfo=UTC),  # Monday 06:00 in Perth, UTC+8
        "horizon_end": 2880,
        "grid_minutes": 5,
        "rules": BayRules(
            cures_per_attendant=2, watch_skill="cure", attendant_may_work=True,
            watch_through_breaks=True, watch_cool_down=True, handover_allowed=True,
        ),
        "technicians": tuple(
            Technician(id=name, skills=frozenset({"cure"}), shifts=shifts) for name in ("ana", "ben")
        ),
        "positions": (
            Position(id="p1", kinds=frozenset({"prep"}), closed=(Span(1440, 1500),)),
            Position(id="c1", kinds=frozenset({"cure"})),
        ),
        "heater_sets": (HeaterSet(id="set-a", channels=2, power_kw=6.0, closed=(Span(2000, 2100),)),),
        "jobs": (job(),),
        "power_off": (Span(700, 760),),
    }  # fmt: skip
    return BayProblem(**(given | changes))  # type: ignore[arg-type]


def planned_job(id: str = "WO-0001", shift: int = 0) -> PlannedJob:
    """The job of `job`, prepared by ana at 06:00 and cured from 07:30 by ben; `shift` later [min]."""
    stages = [
        PlannedStage(name="prepare", start=shift, end=60 + shift, technicians=("ana",), position="p1"),
        PlannedStage(name="dry", start=60 + shift, end=90 + shift, position="p1"),
    ]
    at = 90 + shift
    for name, kind, minutes in BLOCK:
        who = ("ben",) if kind is StageKind.HANDS_ON else ()
        stages.append(
            PlannedStage(
                name=name, start=at, end=at + minutes, technicians=who, position="c1", heater_set="set-a"
            )
        )
        at += minutes
    return PlannedJob(id=id, stages=tuple(stages))


def schedule(shift: int = 0) -> Schedule:
    """The one job, watched by ana and then by ben from 10:00."""
    watched = Span(120 + shift, 360 + shift)
    middle = 240 + shift
    return Schedule(
        jobs=(planned_job(shift=shift),),
        watch=(
            Watch(technician="ana", span=Span(watched.start, middle), jobs=("WO-0001",)),
            Watch(technician="ben", span=Span(middle, watched.end), jobs=("WO-0001",)),
        ),
    )
