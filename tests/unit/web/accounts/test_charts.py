"""Bars, swings and survival curves: where they stand, and that nothing is written over anything."""

import numpy as np
import pytest

from planner.costing.sensitivity import Lever, Swing
from planner.engineering.life_estimate import LifeEstimate, recorded_life
from planner.engineering.life_records import LifeBasis, LifeGroup, LifeMeasure
from planner.web.accounts.charts import DRAWN, LABEL, bars, swing_bars
from planner.web.accounts.life_chart import HEIGHT, WIDTH, life_chart
from tests.lib.costing import aud


def swing(low: str, high: str) -> Swing:
    return Swing(
        lever=Lever.NEW_PRICE, low_factor=aud(1).amount, high_factor=aud(1).amount, saving_low=aud(low),
        saving_high=aud(high),
    )  # fmt: skip


def test_bars_stand_between_their_labels_and_their_values() -> None:
    chart = bars([("dearer", aud(30)), ("cheaper", aud(-10))])
    (zero,) = chart.marks
    # −10 to 30 over the drawing: zero after a quarter of it.
    assert zero.x == pytest.approx(LABEL + DRAWN / 4)
    dearer, cheaper = chart.bars
    assert (dearer.x, dearer.width, dearer.below) == (zero.x, pytest.approx(DRAWN * 3 / 4), False)
    assert (cheaper.x, cheaper.below) == (LABEL, True)
    assert all(bar.x >= LABEL and bar.x + bar.width <= LABEL + DRAWN + 0.1 for bar in chart.bars)
    assert [bar.words for bar in chart.bars] == ["AUD 30.00", "AUD -10.00"]


def test_nothing_is_drawn_of_nothing() -> None:
    assert bars([]).bars == ()
    assert bars([("none", aud(0))]).bars[0].width > 0


@pytest.mark.parametrize(
    ("low", "high", "names"),
    [
        ("-5", "20", {"stands", "zero"}),  # the answer turns within
        ("5", "20", {"stands", "zero"}),  # and not far below
        ("1000", "1020", {"stands"}),  # so far off that a bar would be a hair
    ],
)
def test_zero_is_drawn_where_it_is_near(low: str, high: str, names: set[str]) -> None:
    chart = swing_bars([swing(low, high)], aud(low))
    assert {mark.name for mark in chart.marks} == names
    assert all(LABEL <= mark.x <= LABEL + DRAWN for mark in chart.marks)


def test_a_life_is_drawn_with_both_bands_inside_the_frame() -> None:
    lengths = np.array([400.0, 900.0, 1300.0, 1800.0, 2500.0, 2600.0])
    failed = np.array([True, True, False, True, True, False])
    records = recorded_life(
        LifeGroup(basis=LifeBasis.SITE, measure=LifeMeasure.HOURS, lengths=lengths, failed=failed)
    )
    life = LifeEstimate(basis=LifeBasis.SITE, measure=LifeMeasure.HOURS, life=records.curve, records=records)
    chart = life_chart(life)
    assert chart is not None
    assert [row.length for row in chart.rows] == [400, 900, 1300, 1800, 2500, 2600]
    for row in chart.rows:
        assert row.low <= row.share <= row.high
        assert row.fitted_low < row.fitted < row.fitted_high
    for points in (chart.steps, chart.band, chart.fitted, chart.fitted_low, chart.fitted_high):
        for pair in points.split():
            x, y = (float(part) for part in pair.split(","))
            assert 0 <= x <= WIDTH
            assert 0 <= y <= HEIGHT
    assert [tick.words for tick in chart.ticks] == ["0", "500", "1,000", "1,500", "2,000", "2,500"]
    assert records.shape_band[0] < records.fit.shape < records.shape_band[1]
    assert records.scale_band[0] < records.fit.scale < records.scale_band[1]
