"""The drawing of a cure's log."""

from defusedxml.ElementTree import fromstring

from planner.web.charts.cure_log_svg import MOST_POINTS, Event, Level, Line, cure_log_svg

SVG = "{http://www.w3.org/2000/svg}"


def drawn(values: list[float | None]) -> str:
    minutes = [float(minute) for minute in range(len(values))]
    line = Line(name="inside <pad>", values=values, top=140)
    return cure_log_svg(
        minutes, [line], [Level(name="release", value=70, top=140)], [Event(name="off", at_min=1)]
    )


def path(svg: str) -> str:
    found = fromstring(svg).find(f"{SVG}path")
    assert found is not None
    return str(found.get("d"))


def test_corners_of_the_drawing() -> None:
    """0 to 140 of 140 over 2 min: from left bottom (40, 320) over (450, 180) to right top (860, 40)."""
    assert path(drawn([0.0, 70.0, 140.0])) == "M40.0 320.0 L450.0 180.0 L860.0 40.0"


def test_a_line_breaks_where_nothing_was_read() -> None:
    assert path(drawn([0.0, None, 140.0])) == "M40.0 320.0 M860.0 40.0"


def test_names_are_escaped_and_all_told() -> None:
    texts = [each.text for each in fromstring(drawn([0.0, 1.0, 2.0])).iter()]
    assert {"inside <pad>", "release", "off", "2 min"} <= set(texts)


def test_long_logs_are_thinned() -> None:
    assert path(drawn([float(value % 100) for value in range(86_400)])).count("L") < MOST_POINTS
