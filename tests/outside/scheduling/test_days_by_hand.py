"""Cures packed into attended days, worked out by hand.

One set, one attendant, 480 attended minutes a day. Cures of 300, 240, 180, 120 and 90 min (930 in all) fit
two days: 300 + 180 = 480 and 240 + 120 + 90 = 450. With 301 for 300 the total, 931, is still under 960, but
no split leaves both days within 480: 301 goes with at most 120 (421), and 240 + 180 + 90 = 510 is over; 301
with 90 leaves 540. So the last cure ends on the third day.
"""

from dataclasses import replace

import pytest

from planner.domain.bay_time import Span
from planner.domain.plan import PlanStatus
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift, Technician
from planner.domain.work import Job, Stage, StageKind
from planner.scheduling.verify import schedule_verify
from planner.solver.full import solve_full
from planner.solver.limits import SolveLimits
from tests.lib.bays import DAY, bay, heater_set

OPENS = 8 * 60
WINDOW = 480


def _days(cures: list[int], days: int) -> BayProblem:
    shifts = tuple(Shift(span=Span(day * DAY + OPENS, day * DAY + OPENS + WINDOW)) for day in range(days))
    jobs = (
        Job(
            id=f"J{index}",
            priority=1,
            released_at=0,
            needed_by=days * DAY,
            stages=(Stage(name="cure", kind=StageKind.ENERGISED, minutes=minutes, block=True),),
            heater_sets=("H1",),
        )
        for index, minutes in enumerate(cures)
    )
    ada = Technician(id="Ada", skills=frozenset({"cure"}), shifts=shifts)
    whole = bay(*jobs, horizon_end=days * DAY, grid_minutes=1, technicians=(ada,))
    return replace(whole, heater_sets=(heater_set("H1", turnaround_minutes=0),))


@pytest.mark.parametrize(("first", "days"), [(300, 2), (301, 3)])
def test_cures_take_as_many_days_as_by_hand(first: int, days: int) -> None:
    cures = [first, 240, 180, 120, 90]
    enough, short = _days(cures, days), _days(cures, days - 1)
    schedule, bound, _ = solve_full(enough, limits=SolveLimits(work=30.0, workers=1))
    assert schedule is not None
    assert schedule_verify(enough, schedule) == ()
    assert (bound, len(schedule.jobs)) == (0, len(cures))
    left, bound, status = solve_full(short, limits=SolveLimits(work=30.0, workers=1))
    assert left is not None
    assert len(left.jobs) < len(cures)
    assert bound > 0
    assert status is PlanStatus.OPTIMAL
