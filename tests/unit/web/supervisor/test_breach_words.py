"""Breaches in the words of the bay."""

from datetime import UTC, datetime, timedelta

from planner.web.supervisor.breach_words import breach_words
from planner.web.supervisor.naming import Names

NAMES = Names(jobs={}, resources={"T1": "Tove", "T10": "Bram", "H1": "Small 1"})


def _clock(minute: int) -> datetime:
    return datetime(2026, 11, 25, 6, tzinfo=UTC) + timedelta(minutes=minute)


def test_minutes_of_the_horizon_become_times() -> None:
    # 06:00 and 100 minutes are 07:40 on that Wednesday.
    assert breach_words("short at minute 100", NAMES, _clock) == "short at Wed 07:40"


def test_ids_become_names_and_times_short() -> None:
    words = breach_words("T1: works on WO-0019 and on H1, T10 and X-T1 at 2026-11-25 12:35", NAMES, _clock)
    assert words == "Tove: works on WO-0019 and on Small 1, Bram and X-T1 at Wed 12:35"
