"""An attendant has the watch skill, is on shift, and off break unless breaks are watched through."""

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from tests.lib.bays import EVENING, HOUR, bay, block_schedule, technician
from tests.lib.rule_spec import Case, RuleSpec


def _bay(pause: Span, *, watch_through_breaks: bool = False) -> BayProblem:
    """Ada does and attends all of a block of four hours, and has one break."""
    return bay(technicians=(technician("Ada", pause),), rules={"watch_through_breaks": watch_through_breaks})


class TestAttendant(RuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "attendant"
    feasible = Case(_bay(Span(7 * HOUR, 8 * HOUR), watch_through_breaks=True), {"J1": 10 * HOUR})
    boundary = Case(_bay(Span(9 * HOUR, 14 * HOUR)), {"J1": EVENING})
    infeasible = Case(_bay(Span(9 * HOUR, 14 * HOUR + 1)), {})
    broken = _bay(Span(7 * HOUR, 8 * HOUR)), block_schedule()
