"""Every way to place one job by itself."""

from collections.abc import Iterator
from itertools import combinations

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedStage
from planner.domain.problem import BayProblem
from planner.domain.work import Job, Stage, StageKind
from tests.lib.brute_force.minutes import grown, minutes, shrunk

Placement = tuple[PlannedStage, ...]


def placements(problem: BayProblem, job: Job) -> list[Placement]:
    """All of them, those that end early first."""
    locked = {one.id: {stage.name: stage for stage in one.stages} for one in problem.locked}
    found = _Placing(problem, job, locked.get(job.id, {})).rest(())
    return sorted(found, key=lambda placement: placement[-1].end)


class _Placing:
    def __init__(self, problem: BayProblem, job: Job, locked: dict[str, PlannedStage]) -> None:
        self.problem, self.job, self.locked = problem, job, locked
        self.grid = problem.grid_minutes

    def rest(self, done: Placement) -> Iterator[Placement]:
        """Everything that can follow the stages placed so far."""
        if len(done) == len(self.job.stages):
            if self.holdings_open(done):
                yield done
            return
        stage = self.job.stages[len(done)]
        options = [self.locked[stage.name]] if stage.name in self.locked else self.options(stage, done)
        for planned in options:
            if self.follows(done, planned):
                yield from self.rest((*done, planned))

    def up(self, wanted: int) -> int:
        while wanted % self.grid:
            wanted += 1
        return wanted

    def options(self, stage: Stage, done: Placement) -> Iterator[PlannedStage]:
        first = max(0, self.job.released_at, done[-1].end if done else 0)
        for start in range(self.up(first), self.problem.horizon_end, self.grid):
            for crew, end in self.crews(stage, start):
                for spot in self.job.positions.get(stage.place, ()) if stage.place else (None,):
                    for heater_set in self.job.heater_sets if stage.block else (None,):
                        yield PlannedStage(
                            name=stage.name,
                            start=start,
                            end=end,
                            technicians=crew,
                            position=spot,
                            heater_set=heater_set,
                        )

    def crews(self, stage: Stage, start: int) -> Iterator[tuple[tuple[str, ...], int]]:
        """Each crew with the end that it reaches from a start."""
        work = self.up(stage.minutes)
        if stage.kind is not StageKind.HANDS_ON:
            off = grown(self.problem.power_off, self.grid) if stage.kind is StageKind.ENERGISED else 0
            if not minutes(start, start + work) & off:
                yield (), start + work
            return
        skilled = [one for one in self.problem.technicians if stage.skill in one.skills]
        shifts = [(one.id, shift) for one in skilled for shift in one.shifts]
        for crew in combinations(shifts, stage.crew):
            names = tuple(name for name, _ in crew)
            if len(set(names)) < stage.crew:
                continue
            present, away = -1, 0
            for _, shift in crew:
                present &= shrunk(shift.span, self.grid)
                away |= grown(shift.breaks, self.grid)
            end = self.finish(stage, start, work, away)
            if end is not None and not minutes(start, end) & ~present:
                yield names, end

    def finish(self, stage: Stage, start: int, work: int, away: int) -> int | None:
        if not stage.pausable:
            return None if minutes(start, start + work) & away else start + work
        now = start
        while work:
            paused = bool(minutes(now, now + self.grid) & away)
            if paused and now == start:
                return None
            work -= 0 if paused else self.grid
            now += self.grid
            if now > self.problem.horizon_end:
                return None
        return now

    def follows(self, done: Placement, planned: PlannedStage) -> bool:
        """Whether a stage can come next: in the horizon, its wait kept, its set and position those held."""
        if planned.end > self.problem.horizon_end:
            return False
        if not done:
            return True
        before, stage = self.job.stages[len(done) - 1], self.job.stages[len(done)]
        wait = planned.start - done[-1].end
        longest = before.max_wait_after
        if before.place and before.place == stage.place and planned.position != done[-1].position:
            return False
        if before.block and stage.block and planned.heater_set != done[-1].heater_set:
            return False
        if before.name in self.locked and stage.name in self.locked:
            return wait >= 0
        if before.block and stage.block and wait:
            return False
        return wait >= before.min_wait_after and (longest is None or wait <= longest)

    def holdings_open(self, done: Placement) -> bool:
        """Whether no closure meets what is held; a lock carries its own leave where nothing else is held."""
        return all(
            names <= self.locked.keys() or not held & grown(closed, self.grid)
            for names, held, closed in self.holdings(done)
        )

    def holdings(self, done: Placement) -> Iterator[tuple[set[str], int, tuple[Span, ...]]]:
        block = [planned for planned, stage in zip(done, self.job.stages, strict=True) if stage.block]
        if block:
            closed = next(one.closed for one in self.problem.heater_sets if one.id == block[0].heater_set)
            yield {planned.name for planned in block}, minutes(block[0].start, block[-1].end), closed
        for run in self.job.stays():
            stay = done[run.start : run.stop]
            closed = next(one.closed for one in self.problem.positions if one.id == stay[0].position)
            yield {planned.name for planned in stay}, minutes(stay[0].start, stay[-1].end), closed
