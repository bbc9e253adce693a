"""The best of all combinations of placements."""

from collections.abc import Iterator, Sequence

from planner.domain.plan import PlannedJob, Schedule, Watch
from planner.domain.problem import BayProblem
from planner.domain.work import Job
from tests.lib.brute_force.attending import attend
from tests.lib.brute_force.demands import Demands, demands
from tests.lib.brute_force.minutes import BEFORE
from tests.lib.brute_force.placements import placements

Cost = tuple[int, int]


def best_schedule(problem: BayProblem) -> tuple[Cost, Schedule] | None:
    """The least (lateness, flow) with a schedule that has it; None where locked work leaves no plan."""
    return _Search(problem).best()


class _Search:
    def __init__(self, problem: BayProblem) -> None:
        self.problem = problem
        self.jobs = _in_order(problem.jobs)
        self.must = {job.id for job in problem.locked}
        self.options = [
            [demands(problem, job, placement) for placement in placements(problem, job)] for job in self.jobs
        ]
        self.found: tuple[Cost, tuple[Demands, ...], tuple[Watch, ...]] | None = None

    def best(self) -> tuple[Cost, Schedule] | None:
        self.extend(0, (), (0, 0))
        if self.found is None:
            return None
        cost, taken, watch = self.found
        jobs = tuple(PlannedJob(id=demand.job.id, stages=demand.placement) for demand in taken)
        return cost, Schedule(jobs=jobs, watch=watch)

    def extend(self, index: int, taken: tuple[Demands, ...], cost: Cost) -> None:
        if self.found is not None and self.least(index, cost) >= self.found[0]:
            return
        if index == len(self.jobs):
            watch = attend(self.problem, taken)
            if watch is not None:
                self.found = cost, taken, watch
            return
        for demand, more in self.choices(index, taken):
            now = (cost[0] + more[0], cost[1] + more[1])
            if self.found is not None and self.least(index + 1, now) >= self.found[0]:
                continue
            if demand is None or self.fits(demand, taken):
                self.extend(index + 1, taken if demand is None else (*taken, demand), now)

    def choices(self, index: int, taken: tuple[Demands, ...]) -> Iterator[tuple[Demands | None, Cost]]:
        job = self.jobs[index]
        before = [demand.placement[-1].end for demand in taken if demand.job.id in job.after]
        if len(before) == len(job.after):
            for demand in self.options[index]:
                if all(end <= demand.placement[0].start for end in before):
                    yield demand, self.cost(job, demand)
        if job.id not in self.must:
            yield None, self.cost(job, None)

    def cost(self, job: Job, demand: Demands | None) -> Cost:
        if demand is None:
            beyond = max(0, self.problem.horizon_end - job.needed_by)
            return job.priority * (beyond + self.problem.horizon_end), 0
        end = demand.placement[-1].end
        return job.priority * max(0, end - job.needed_by), end

    def least(self, index: int, cost: Cost) -> Cost:
        """No way to go on costs less: each further job by itself at its best, its flow not counted."""
        for job, options in zip(self.jobs[index:], self.options[index:], strict=True):
            alone = self.cost(job, options[0] if options else None)[0]
            cost = (cost[0] + min(alone, self.cost(job, None)[0]), cost[1])
        return cost[0], cost[1] - BEFORE * (len(self.jobs) - index)

    def fits(self, demand: Demands, taken: tuple[Demands, ...]) -> bool:
        if any(demand.clashes(other) for other in taken):
            return False
        return (
            _supplied(self.problem, (*taken, demand)) and attend(self.problem, (*taken, demand)) is not None
        )


def _supplied(problem: BayProblem, taken: Sequence[Demands]) -> bool:
    sets = {one.id: one for one in problem.heater_sets}
    power, channels = problem.rules.power_limit_kw, problem.rules.channel_limit
    steps = range(-BEFORE, problem.horizon_end)
    live = [(demand.energised, _set_name(demand)) for demand in taken if demand.energised]
    for minute in steps if live else ():
        hot = [sets[name] for energised, name in live if name and energised >> (minute + BEFORE) & 1]
        if power is not None and sum(one.power_kw for one in hot) > power + 1e-9:
            return False
        if channels is not None and sum(one.channels for one in hot) > channels:
            return False
    return True


def _set_name(demand: Demands) -> str | None:
    return next((planned.heater_set for planned in demand.placement if planned.heater_set), None)


def _in_order(jobs: Sequence[Job]) -> list[Job]:
    """The jobs so that each comes behind those that it follows."""
    done: list[Job] = []
    while len(done) < len(jobs):
        names = {job.id for job in done}
        done.append(next(job for job in jobs if job.id not in names and names.issuperset(job.after)))
    return done
