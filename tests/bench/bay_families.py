"""Bays of the sizes that a site meets, from a seed: a day, a week, a fortnight, a backlog."""

from dataclasses import dataclass
from datetime import UTC, datetime
from random import Random

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.domain.resources import BayRules, HeaterSet, Position, Shift, Technician
from planner.domain.work import Job, Stage, StageKind

HOUR, DAY = 60, 24 * 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """How large a bay is: `spread` is the part of the horizon in which its tyres are needed."""

    jobs: int
    days: int
    technicians: int
    heater_sets: int
    positions: int
    spread: float = 0.9


FAMILIES = {
    "day": Family(jobs=8, days=2, technicians=5, heater_sets=6, positions=6),
    "busy-day": Family(jobs=20, days=3, technicians=5, heater_sets=6, positions=6),
    "quiet-week": Family(jobs=30, days=7, technicians=6, heater_sets=9, positions=10),
    "week": Family(jobs=40, days=7, technicians=5, heater_sets=6, positions=6),
    "long-week": Family(jobs=80, days=7, technicians=8, heater_sets=9, positions=12),
    "fortnight": Family(jobs=150, days=14, technicians=8, heater_sets=9, positions=12),
    "backlog": Family(jobs=300, days=21, technicians=10, heater_sets=12, positions=16),
}


def family_bay(name: str, seed: int) -> BayProblem:
    """The bay of a family and a seed; the same for the same two."""
    family, random = FAMILIES[name], Random(seed)
    return BayProblem(
        time_zone="UTC",
        origin=datetime(2026, 3, 2, tzinfo=UTC),
        horizon_end=family.days * DAY,
        grid_minutes=5,
        rules=_rules(),
        technicians=tuple(_technician(random, number, family.days) for number in range(family.technicians)),
        positions=tuple(
            Position(id=f"P{n}", kinds=frozenset({"prep" if n < family.positions // 2 else "cure"}))
            for n in range(family.positions)
        ),
        heater_sets=tuple(_heater_set(number) for number in range(family.heater_sets)),
        jobs=tuple(_job(random, number, family) for number in range(family.jobs)),
    )


def _rules() -> BayRules:
    return BayRules(
        cures_per_attendant=3,
        watch_skill="cure",
        attendant_may_work=True,
        watch_through_breaks=True,
        watch_cool_down=True,
        handover_allowed=True,
        power_limit_kw=24.0,
        channel_limit=8,
    )


def _technician(random: Random, number: int, days: int) -> Technician:
    """Somebody on days of twelve hours, now and then off; two in five do no cures."""
    shifts = []
    for day in range(days):
        if random.random() < 0.9:
            start, shift = day * DAY + 6 * HOUR, number % 2 * 30
            pauses = ((3, 15), (6, 30), (9, 15))
            breaks = tuple(
                Span(start + h * HOUR + shift, start + h * HOUR + shift + minutes) for h, minutes in pauses
            )
            shifts.append(Shift(span=Span(start, start + 12 * HOUR), breaks=breaks))
    skills = {"prep"} if number % 5 in (3, 4) else {"prep", "cure"}
    return Technician(id=f"T{number}", skills=frozenset(skills), shifts=tuple(shifts))


def _heater_set(number: int) -> HeaterSet:
    power, turnaround = ((3.2, 15), (4.8, 20), (9.6, 30))[number % 3]
    return HeaterSet(id=f"H{number}", channels=2, power_kw=power, turnaround_minutes=turnaround)


def _job(random: Random, number: int, family: Family) -> Job:
    kinds = random.choice(((0, 1), (1, 2), (1, 2), (2,)))
    places = range(family.positions)
    end = family.days * DAY
    release = random.choice((0, 0, random.randrange(0, end // 2, HOUR)))
    return Job(
        id=f"J{number}",
        priority=random.choice((1, 1, 2, 3, 5)),
        released_at=release,
        needed_by=release + random.randrange(10 * HOUR, max(11 * HOUR, int(end * family.spread)), HOUR),
        stages=_stages(random, crew=random.choice((1, 2))),
        heater_sets=tuple(f"H{n}" for n in range(family.heater_sets) if n % 3 in kinds),
        positions={
            "prep": tuple(f"P{n}" for n in places if n < family.positions // 2),
            "cure": tuple(f"P{n}" for n in places if n >= family.positions // 2),
        },
    )


def _stages(random: Random, crew: int) -> tuple[Stage, ...]:
    """The usual route, its minutes by the size of the damage."""

    def minutes(least: int, most: int) -> int:
        return random.randrange(least, most + 1, 5)

    return (
        _by_hand("skive", minutes(60, 150), place="prep", pausable=True),
        _by_hand("cement", 15, place="prep", least=minutes(25, 80), most=240),
        _by_hand("fill", minutes(25, 75), place="prep", most=24 * HOUR),
        _by_hand("rig", minutes(25, 45), place="cure", crew=crew, skill="cure", block=True),
        Stage(name="heat_up", kind=StageKind.ENERGISED, minutes=minutes(35, 60), block=True, place="cure"),
        Stage(name="cure", kind=StageKind.ENERGISED, minutes=minutes(120, 220), block=True, place="cure"),
        Stage(name="cool", kind=StageKind.PRESSURISED, minutes=minutes(45, 105), block=True, place="cure"),
        _by_hand(
            "strip",
            minutes(15, 30),
            place="cure",
            crew=crew,
            skill="cure",
            block=True,
            least=minutes(60, 160),
        ),
        _by_hand("finish", minutes(30, 50)),
    )


def _by_hand(
    name: str,
    minutes: int,
    *,
    place: str | None = None,
    crew: int = 1,
    skill: str = "prep",
    pausable: bool = False,
    block: bool = False,
    least: int = 0,
    most: int | None = None,
) -> Stage:
    return Stage(
        name=name,
        kind=StageKind.HANDS_ON,
        minutes=minutes,
        crew=crew,
        skill=skill,
        pausable=pausable,
        block=block,
        place=place,
        min_wait_after=least,
        max_wait_after=most,
    )
