"""Levers: pure changes, and a trial that does not sell noise as gain."""

import pytest

from planner.domain.errors import InvalidValueError
from planner.scheduling.dispatch import dispatch
from planner.solver.levers import NOTHING, baseline_solve, lever_named, lever_try, levers_for
from planner.solver.levers.changes import longer_shifts
from planner.solver.limits import SolveLimits
from tests.lib.bays import DAY, HOUR, bay, job

LIMITS = SolveLimits(work=2.0)
CROWDED = bay(
    *(job(f"J{n}", needed_by=DAY, positions={"cure": ("C1",)}) for n in range(1, 4)),
    rules={"cures_per_attendant": 4},
)


def test_every_lever_of_a_bay_has_a_name_to_ask_for_it_again() -> None:
    levers = levers_for(CROWDED)
    assert [lever.id for lever in levers] == [
        "set:H1",
        "technician:Ada",
        "shift:30",
        "shift:60",
        "position:C1",
        "position:P1",
        "power",
        "attendant_load",
    ]
    assert [lever_named(CROWDED, lever.id).words for lever in levers] == [lever.words for lever in levers]
    with pytest.raises(InvalidValueError, match="no lever set:H7"):
        lever_named(CROWDED, "set:H7")


def test_one_more_set_serves_the_same_jobs() -> None:
    more = lever_named(CROWDED, "set:H1").change(CROWDED)
    assert [one.id for one in more.heater_sets] == ["H1", "H1+2"]
    assert {one.heater_sets for one in more.jobs} == {("H1", "H1+2")}


def test_a_longer_shift_ends_later() -> None:
    (ada,) = longer_shifts(CROWDED, 30).technicians
    assert ada.shifts[0].span.end == 18 * HOUR + 30


def test_hours_that_let_the_third_tyre_in_are_a_gain_and_nothing_is_noise() -> None:
    # Three blocks of 240 min and two turnarounds of 30 take 780 min; the shift has 720, with 60 more it fits.
    incumbent = dispatch(CROWDED)
    baseline = baseline_solve(CROWDED, incumbent, limits=LIMITS)
    hour = lever_try(CROWDED, incumbent, lever_named(CROWDED, "shift:60"), baseline=baseline, limits=LIMITS)
    nothing = lever_try(CROWDED, incumbent, NOTHING, baseline=baseline, limits=LIMITS)
    # a tyre left out counts the whole day once: 1440 min at priority 1
    assert (hour.tyres_gain, hour.lateness_gain, hour.lateness, hour.within_noise) == (1, 1440, 0, False)
    assert (nothing.tyres_gain, nothing.lateness_gain, nothing.within_noise) == (0, 0, True)
