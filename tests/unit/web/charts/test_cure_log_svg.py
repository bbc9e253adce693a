"""The drawing of a cure's log."""

import pytest
from defusedxml.ElementTree import fromstring

from planner.web.charts.cure_log_svg import BUCKETS, Axis, Band, Event, Line, LogDrawing, cure_log_svg

SVG = "{http://www.w3.org/2000/svg}"
CELSIUS = Axis(top=140, step=70, unit="°C")


def drawn(values: list[float | None]) -> str:
    return cure_log_svg(
        LogDrawing(
            minutes=[float(minute) for minute in range(len(values))],
            lines=[Line(name="inside <pad>", values=values, axis=CELSIUS, colour="#a63a00")],
            bands=[Band(name="release", low=70, high=70, axis=CELSIUS)],
            events=[Event(number=7, name="a spike", from_min=1, to_min=1, odd=True)],
        )
    )


def path(svg: str) -> str:
    found = fromstring(svg).find(f".//{SVG}path")
    assert found is not None
    return str(found.get("d"))


def test_corners_of_the_drawing() -> None:
    """0 to 140 of 140 over 2 min: from left bottom (52, 386) over the middle to right top (902, 44)."""
    assert path(drawn([0.0, 70.0, 140.0])) == "M52.0 386.0 L477.0 215.0 L902.0 44.0"


def test_a_line_breaks_where_nothing_was_read() -> None:
    assert path(drawn([0.0, None, 140.0])) == "M52.0 386.0 M902.0 44.0"


def test_names_are_escaped_and_all_told() -> None:
    texts = {each.text for each in fromstring(drawn([0.0, 1.0, 2.0])).iter()}
    assert {"inside <pad>", "release", "a spike", "7", "°C", "0:00"} <= texts


@pytest.mark.parametrize("place", [1, 43_210, 86_398])
def test_a_day_of_seconds_is_thinned_and_keeps_its_one_spike(place: int) -> None:
    values: list[float | None] = [50.0] * 86_400
    values[place] = 140.0
    words = path(drawn(values))
    assert words.count("L") < 3 * BUCKETS
    assert words.count(" 44.0") == 1


def test_a_gap_of_a_long_log_is_kept() -> None:
    values: list[float | None] = [50.0] * 86_400
    values[40_000:40_200] = [None] * 200
    assert path(drawn(values)).count("M") > 1
