"""A plan replayed without scatter happens as planned, whatever the bay's rules."""

from dataclasses import replace

import pytest

from planner.scheduling.dispatch import dispatch
from planner.scheduling.replay import Spread, odds_for
from tests.lib.random_bays import random_bay

SURE = Spread()


@pytest.mark.parametrize("seed", range(60))
def test_without_scatter_every_tyre_is_ready_when_planned(seed: int) -> None:
    problem = replace(random_bay(seed), locked=())
    plan = dispatch(problem, seed=seed)
    sure = {(job.id, stage.name): SURE for job in problem.jobs for stage in job.stages}
    odds = odds_for(problem, plan, spreads=sure, replays=1)
    assert {one.job: one.p90 for one in odds} == {job.id: job.end for job in plan.jobs}
