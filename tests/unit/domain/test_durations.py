"""Elapsed time as people say it."""

import pytest

from planner.domain.durations import hours_minutes


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "0 min"),
        (59, "59 min"),
        (60, "1 h"),
        (185, "3 h 05 min"),
        (71 * 60 + 59, "71 h 59 min"),
        (72 * 60, "3 d"),
        (79 * 60 + 29, "3 d 7 h"),
        (95 * 60 + 30, "4 d"),
    ],
)
def test_minutes_become_words_that_can_be_taken_in(minutes: int, words: str) -> None:
    assert hours_minutes(minutes) == words
