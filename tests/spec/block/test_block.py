"""Each stage of the heat block starts as the one before ends."""

from dataclasses import replace

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift
from tests.lib.bays import HOUR, MORNING, bay, block_plan, block_schedule, restaged, technician
from tests.lib.rule_spec import Case, RuleSpec

STRIPPED_LATE = restaged(block_plan(), "strip", start=MORNING + 225, end=MORNING + 255)


def _bay(minutes: int) -> BayProblem:
    """A block of 240 min, a shift that is too short for it, and a second one of so many minutes."""
    shifts = Shift(span=Span(6 * HOUR, 9 * HOUR)), Shift(span=Span(10 * HOUR, 10 * HOUR + minutes))
    return bay(technicians=(replace(technician("Ada"), shifts=shifts),))


class TestBlock(RuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "block"
    feasible = Case(_bay(300), {"J1": 14 * HOUR})
    boundary = Case(_bay(240), {"J1": 14 * HOUR})
    infeasible = Case(_bay(225), {})
    broken = bay(), block_schedule(STRIPPED_LATE)
