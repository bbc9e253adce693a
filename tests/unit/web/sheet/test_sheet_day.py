"""The day whose sheets open first."""

from datetime import date, timedelta

import pytest
from django.test import RequestFactory
from django.utils import timezone

from planner.web.sheet.views import _day_asked, _next_day


@pytest.fixture(name="days")
def _days() -> list[date]:
    """Yesterday and four days from today on."""
    return [timezone.localdate() + timedelta(days=more) for more in range(-1, 4)]


def test_a_day_off_is_passed_over(days: list[date]) -> None:
    assert _next_day(days, {days[0], days[1], days[3]}) == days[1]
    assert _next_day(days, {days[0], days[3]}) == days[3]
    assert _next_day(days, {days[0]}) == days[0]


@pytest.mark.parametrize("asked", ["", "x", "2026-02-31", "2001-01-01"])
def test_a_day_that_the_plan_does_not_cover_is_none(days: list[date], asked: str) -> None:
    assert _day_asked(RequestFactory().get("/", {"day": asked}), days) is None


def test_a_day_that_is_asked_for_opens_though_nobody_works(days: list[date]) -> None:
    assert _day_asked(RequestFactory().get("/", {"day": str(days[2])}), days) == days[2]
