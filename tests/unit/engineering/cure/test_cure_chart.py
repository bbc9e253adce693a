"""The cure chart: read, never extrapolated, never shortened."""

import pytest

from planner.domain.errors import InvalidValueError
from planner.engineering.cure.cure_chart import (
    ChartCheck,
    ChartPoint,
    ChartVerdict,
    CureChart,
    OffChartError,
    chart_check,
    chart_find,
)
from planner.engineering.cure.estimate import cure_estimate, cure_outcome
from tests.lib.cures import case


def chart(*lines: tuple[float, int]) -> CureChart:
    points = tuple(ChartPoint(thickness_mm=thickness, timed_min=minutes) for thickness, minutes in lines)
    return CureChart(material="stock", set_kind="sidewall", points=points)


def checked(timed_min: int, thickness_mm: float = 60) -> ChartCheck:
    repair = case(thickness_mm)
    return chart_check(
        chart((thickness_mm, timed_min)).read(thickness_mm),
        needed=cure_estimate(repair),
        charted=cure_outcome(repair, timed_min=timed_min),
        thickness_m=thickness_mm / 1000,
    )


def test_a_line_of_the_chart_is_read_as_it_stands() -> None:
    reading = chart((20, 90), (40, 155)).read(40)
    assert (reading.timed_min, reading.interpolated) == (155, False)


def test_between_lines_in_a_straight_line_rounded_up() -> None:
    """90 + (33 − 20)/(40 − 20) · 65 = 132.25 → 133."""
    reading = chart((20, 90), (40, 155)).read(33)
    assert reading.timed_min == 133
    assert "between 20 mm (90 min) and 40 mm (155 min)" in str(reading)


@pytest.mark.parametrize("thickness_mm", [19.9, 40.1, 400])
def test_never_extrapolated(thickness_mm: float) -> None:
    with pytest.raises(OffChartError, match=r"runs from 20 to 40 mm .* ask the material's maker"):
        chart((20, 90), (40, 155)).read(thickness_mm)


def test_a_chart_that_is_missing_is_named() -> None:
    with pytest.raises(OffChartError, match="no chart of stock on tread"):
        chart_find([chart((20, 90))], material="stock", set_kind="tread")


@pytest.mark.parametrize("lines", [[(40, 155), (20, 90)], [(20, 90), (20, 90)], [(20, 90), (40, 80)], []])
def test_lines_out_of_order_are_refused(lines: list[tuple[float, int]]) -> None:
    with pytest.raises(InvalidValueError):
        chart(*lines)


def test_model_says_how_short_a_chart_is_and_where() -> None:
    """The model's own minutes less 25."""
    check = checked(cure_estimate(case(60)).timed_min - 25)
    assert check.verdict is ChartVerdict.SHORT
    assert check.message == "short by 25 min at the middle, says the model"


def test_model_agrees_within_ten_minutes() -> None:
    needed = cure_estimate(case(60)).timed_min
    assert checked(needed - 10).verdict is ChartVerdict.AGREES
    assert checked(needed - 11).verdict is ChartVerdict.SHORT


def test_model_never_shortens_a_chart() -> None:
    check = checked(200)
    assert (check.verdict, check.planned_min) == (ChartVerdict.LONGER, 200)


def test_chart_past_the_reversion_limit_is_told() -> None:
    """400 min at 140 °C are far more than the 240 equivalent minutes the stock bears."""
    assert checked(400).verdict is ChartVerdict.REVERSION
