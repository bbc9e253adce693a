"""The random bays reach every rule: relax it, and some plan for the relaxed bay breaks it in the real one."""

import pytest

from planner.domain.problem import BayProblem
from planner.scheduling.dispatch import LockedWorkError, dispatch
from planner.scheduling.verify import RULES, schedule_verify
from tests.lib.random_bays import BaySize, random_bay
from tests.lib.relaxed import RELAXED, without_twins

SEEDS = range(150)
SIZES = (BaySize(), BaySize(hours=16))
"""A whole day, and a horizon that ends during the shifts."""


def _is_in_the_way(stem: str, problem: BayProblem) -> bool:
    """Whether dispatch, freed of the rule, plans what the rule forbids."""
    try:
        schedule = without_twins(dispatch(RELAXED[stem](problem), restarts=0))
    except LockedWorkError:
        return False
    return stem in {breach.rule for breach in schedule_verify(problem, schedule)}


@pytest.mark.parametrize("stem", RULES)
def test_some_random_bay_has_the_rule_in_the_way(stem: str) -> None:
    bays = (random_bay(seed, size) for size in SIZES for seed in SEEDS)
    assert any(_is_in_the_way(stem, problem) for problem in bays)
