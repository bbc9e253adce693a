"""Random small bay problems from a seed: every rule of the bay is met by some of them."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from random import Random

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.problem import BayProblem
from planner.domain.resources import BayRules, HeaterSet, Position, Shift, Technician
from planner.domain.work import Job, Stage, StageKind


@dataclass(frozen=True, slots=True, kw_only=True)
class BaySize:
    """How large a random bay gets; `messy` adds times and durations off the grid."""

    jobs: int = 3
    technicians: int = 2
    heater_sets: int = 2
    hours: int = 24
    grid_minutes: int = 15
    messy: bool = True
    locked: bool = True


def random_bay(seed: int, size: BaySize | None = None) -> BayProblem:
    """The bay problem of a seed; the same for the same seed and size."""
    return _Maker(Random(seed), size or BaySize()).problem()


class _Maker:
    """Draws one problem, part by part."""

    def __init__(self, random: Random, size: BaySize) -> None:
        self.random, self.size = random, size
        self.end = size.hours * 60

    def problem(self) -> BayProblem:
        technicians = tuple(self.technician(f"T{n}") for n in range(1, self.size.technicians + 1))
        sets = tuple(self.heater_set(f"H{n}") for n in range(1, self.size.heater_sets + 1))
        problem = BayProblem(
            time_zone="UTC",
            origin=datetime(2026, 3, 2, tzinfo=UTC),
            horizon_end=self.end,
            grid_minutes=self.size.grid_minutes,
            rules=self.rules(),
            technicians=technicians,
            positions=tuple(self.position(f"P{n}") for n in range(1, 4)),
            heater_sets=sets,
            power_off=self.closed(0.3),
            jobs=tuple(self.job(n, sets) for n in range(1, self.size.jobs + 1)),
        )
        return self.with_locked(problem) if self.size.locked else problem

    def chance(self, odds: float) -> bool:
        return self.random.random() < odds

    def off_grid(self, minutes: int) -> int:
        """Some minutes beside a multiple of the grid, where the bay is messy."""
        return minutes + (self.random.randint(-4, 4) if self.size.messy and self.chance(0.4) else 0)

    def steps(self, least: int, most: int) -> int:
        return self.random.randint(least, most) * self.size.grid_minutes

    def closed(self, odds: float) -> tuple[Span, ...]:
        if not self.chance(odds):
            return ()
        start = self.random.randrange(0, self.end, 60)
        return (Span(self.off_grid(start), self.off_grid(start + self.steps(2, 8))),)

    def rules(self) -> BayRules:
        return BayRules(
            cures_per_attendant=self.random.choice((1, 1, 2)),
            watch_skill="cure",
            attendant_may_work=self.chance(0.5),
            watch_through_breaks=self.chance(0.5),
            watch_cool_down=self.chance(0.7),
            handover_allowed=self.chance(0.5),
            power_limit_kw=self.random.choice((None, 12.5, 20.0)),
            channel_limit=self.random.choice((None, 3, 4)),
        )

    def technician(self, name: str) -> Technician:
        skills = {"prep", "cure"} if self.chance(0.7) else {self.random.choice(("prep", "cure"))}
        shifts = []
        for day in range(0, self.end, 24 * 60):
            start = self.off_grid(day + self.random.choice((4, 6, 8)) * 60)
            span = Span(start, min(start + self.off_grid(self.random.choice((8, 10, 12)) * 60), self.end))
            shifts.append(Shift(span=span, breaks=self.breaks(span)))
        return Technician(id=name, skills=frozenset(skills), shifts=tuple(shifts))

    def breaks(self, span: Span) -> tuple[Span, ...]:
        if not self.chance(0.7):
            return ()
        start = span.start + self.random.choice((2, 3, 4)) * 60
        pause = Span(self.off_grid(start), self.off_grid(start + self.steps(1, 2)) + 5)
        return (pause,) if span.holds(pause) else ()

    def position(self, name: str) -> Position:
        kinds = frozenset({"P1": ("cure",), "P2": ("prep",), "P3": ("cure", "prep")}[name])
        return Position(id=name, kinds=kinds, closed=self.closed(0.2))

    def heater_set(self, name: str) -> HeaterSet:
        return HeaterSet(
            id=name,
            channels=self.random.choice((1, 2, 3)),
            power_kw=self.random.choice((6.2, 8.0, 12.5)),
            turnaround_minutes=self.off_grid(self.steps(1, 2)),
            closed=self.closed(0.2),
        )

    def job(self, number: int, sets: tuple[HeaterSet, ...]) -> Job:
        earlier = [f"J{n}" for n in range(1, number)]
        eligible = [one.id for one in sets if self.chance(0.7)] or [sets[0].id]
        cure = ("P1", "P3") if self.chance(0.7) else ("P1",)
        return Job(
            id=f"J{number}",
            priority=self.random.choice((1, 2, 5)),
            released_at=self.off_grid(self.random.choice((-60, 0, 6 * 60, 9 * 60))),
            needed_by=self.off_grid(self.random.choice((-120, 10, 14, 20)) * 60),
            after=(self.random.choice(earlier),) if earlier and self.chance(0.25) else (),
            heater_sets=tuple(eligible),
            positions={"cure": cure, "prep": ("P2", "P3")},
            stages=self.stages(),
        )

    def stages(self) -> tuple[Stage, ...]:
        before = [self.prep()] if self.chance(0.6) else []
        rest = [self.rest()] if self.chance(0.3) else []
        stages = [*before, *(self.block() if self.chance(0.85) or not before else ()), *rest]
        return tuple(self.with_waits(stage, last=stage is stages[-1]) for stage in stages)

    def prep(self) -> Stage:
        return Stage(
            name="buff",
            kind=StageKind.HANDS_ON,
            minutes=self.off_grid(self.steps(2, 6)),
            crew=2 if self.chance(0.2) else 1,
            skill="prep",
            pausable=self.chance(0.6),
            place="prep" if self.chance(0.8) else None,
        )

    def rest(self) -> Stage:
        return Stage(name="rest", kind=StageKind.WAIT, minutes=self.off_grid(self.steps(2, 8)))

    def block(self) -> tuple[Stage, ...]:
        place = "cure" if self.chance(0.9) else None
        rig = Stage(
            name="rig", kind=StageKind.HANDS_ON, minutes=self.steps(1, 2), crew=1, skill="prep", block=True,
            place=place, pausable=self.chance(0.2),
        )  # fmt: skip
        heat = Stage(
            name="heat",
            kind=StageKind.ENERGISED,
            minutes=self.off_grid(self.steps(3, 8)),
            block=True,
            place=place,
        )
        cool = Stage(
            name="cool", kind=StageKind.PRESSURISED, minutes=self.steps(1, 4), block=True, place=place
        )
        strip = replace(rig, name="strip", pausable=False)
        return (rig, heat, cool, strip) if self.chance(0.8) else (rig, heat, strip)

    def with_waits(self, stage: Stage, *, last: bool) -> Stage:
        if last or (stage.block and stage.name != "strip"):
            return stage
        least = self.off_grid(self.steps(1, 2)) if self.chance(0.4) else 0
        most = max(least, 0) + self.steps(2, 12) if self.chance(0.4) else None
        return replace(stage, min_wait_after=max(least, 0), max_wait_after=most)

    def with_locked(self, problem: BayProblem) -> BayProblem:
        """Sometimes a first hands-on stage is in hand already: it began before the horizon did."""
        first = next((job for job in problem.jobs if job.stages[0].name == "buff" and not job.after), None)
        if first is None or not self.chance(0.4):
            return problem
        crew = [one.id for one in problem.technicians if "prep" in one.skills][: first.stages[0].crew]
        if len(crew) < first.stages[0].crew:
            return problem
        spot = first.positions["prep"][0] if first.stages[0].place else None
        stage = PlannedStage(
            name="buff",
            start=-self.steps(1, 3),
            end=self.off_grid(30),
            technicians=tuple(crew),
            position=spot,
        )
        return replace(problem, locked=(PlannedJob(id=first.id, stages=(stage,)),))
