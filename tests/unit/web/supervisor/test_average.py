"""Lateness of a build as a time for each tyre."""

from planner.models import PlanBuild
from planner.web.supervisor.average import AverageLate, average_of


def test_the_sum_becomes_a_time_for_each_tyre() -> None:
    # Two tyres of weight 3 and 1, 100 and 60 min late: (3 · 100 + 1 · 60) / 4 = 90 min.
    build = PlanBuild(weight=4, lateness=360, bound=250)
    assert average_of(build) == AverageLate(now="1 h 30 min", least="1 h 02 min")


def test_nothing_is_said_before_the_site_is_read() -> None:
    assert average_of(PlanBuild(weight=0, lateness=360)) == AverageLate()
