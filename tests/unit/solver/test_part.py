"""A part solved anew: only the free jobs move, and the whole still holds."""

import pytest

from planner.domain.plan import Schedule
from planner.scheduling.dispatch import dispatch
from planner.scheduling.score import score
from planner.scheduling.verify import schedule_verify
from planner.solver.part import solve_part
from tests.lib.random_bays import BaySize, random_bay

SIZE = BaySize(jobs=5, technicians=3, locked=False)


def _parts(schedule: Schedule, names: list[str]) -> dict[str, list[tuple[int, int]]]:
    return {
        job.id: [(stage.start, stage.end) for stage in job.stages]
        for job in schedule.jobs
        if job.id not in names
    }


@pytest.mark.parametrize("seed", range(25))
def test_a_part_holds_is_no_worse_and_leaves_the_rest_alone(seed: int) -> None:
    problem = random_bay(seed, SIZE)
    start = dispatch(problem)
    free = [job.id for job in problem.jobs][:3]
    found = solve_part(problem, start, frozenset(free), max_deterministic_time=1.0, seed=seed)
    assert found is not None
    assert schedule_verify(problem, found) == ()
    assert score(problem, found.jobs) <= score(problem, start.jobs)
    assert _parts(found, free) == _parts(start, free)


def test_the_same_arguments_give_the_same_part() -> None:
    problem = random_bay(3, SIZE)
    start, free = dispatch(problem), frozenset(job.id for job in problem.jobs)
    twice = [solve_part(problem, start, free, max_deterministic_time=0.5, seed=7) for _ in range(2)]
    assert twice[0] == twice[1]
