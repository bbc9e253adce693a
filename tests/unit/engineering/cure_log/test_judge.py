"""Logs with planted faults: each is found, told and never repaired."""

from dataclasses import replace

import numpy as np
import pytest

from planner.domain.cure_limits import ReleasePlace
from planner.domain.cure_verdict import CureVerdict
from planner.engineering.cure_log.columns import ColumnMap
from planner.engineering.cure_log.finding import FindingKind
from planner.engineering.cure_log.judge import CureJudgement, cure_judge
from planner.engineering.cure_log.plan import CurePlan
from planner.engineering.cure_log.read import cure_log_read
from planner.engineering.cure_log.units import TemperatureUnit
from planner.engineering.heat.tridiagonal import FloatArray
from tests.lib.cure_logs import COLUMNS, PLAN, good_log, readings, rows
from tests.lib.cures import case


def judged(*columns: FloatArray, plan: CurePlan = PLAN, mapping: ColumnMap = COLUMNS) -> CureJudgement:
    minutes, inside, outside, pressure = columns
    return cure_judge(cure_log_read(rows(minutes, inside, outside, pressure), mapping), plan)


def kinds(judgement: CureJudgement) -> set[FindingKind]:
    return {finding.kind for finding in judgement.findings}


def failed(judgement: CureJudgement) -> set[str]:
    return {check.name for check in judgement.checks if not check.passed}


def test_a_good_cure_is_within_plan() -> None:
    judgement = cure_judge(good_log(), PLAN)
    assert (judgement.verdict, judgement.why, judgement.findings) == (CureVerdict.WITHIN_PLAN, (), ())


def test_moments_of_a_good_cure() -> None:
    """Outside, 1 °C behind, passes 119.5 °C at 30.25 min: row 31; falls through it 29.25 min after 200."""
    span = cure_judge(good_log(), PLAN).span
    assert (span.timer, span.off, span.released) == (31, 229, 280)


def test_twelve_minute_gap_is_told_and_asks_for_a_decision() -> None:
    minutes, *others = readings()
    kept = (minutes <= 100) | (minutes >= 112)
    judgement = judged(minutes[kept], *(each[kept] for each in others))
    assert judgement.verdict is CureVerdict.NEEDS_DECISION
    (gap,) = judgement.findings
    assert (gap.kind, gap.from_min, gap.to_min, gap.message) == (
        FindingKind.GAP, 100, 112, "no readings for 12 min",
    )  # fmt: skip


def test_a_log_that_misses_most_of_the_timed_part_is_not_judged() -> None:
    minutes, *others = readings()
    kept = (minutes <= 60) | (minutes >= 150)
    assert judged(minutes[kept], *(each[kept] for each in others)).verdict is CureVerdict.NOT_ENOUGH_DATA


def test_a_pad_without_readings_is_not_judged() -> None:
    minutes, inside, outside, pressure = readings()
    judgement = judged(minutes, inside, np.full_like(outside, np.nan), pressure)
    assert judgement.verdict is CureVerdict.NOT_ENOUGH_DATA
    assert "the outside pad has no readings" in judgement.why


def test_spike_is_told_and_does_not_count_as_overshoot() -> None:
    minutes, inside, outside, pressure = readings()
    inside[120] = 230.0
    judgement = judged(minutes, inside, outside, pressure)
    assert kinds(judgement) == {FindingKind.SPIKE}
    assert failed(judgement) == set()
    assert judgement.verdict is CureVerdict.NEEDS_DECISION


def test_sensors_swapped_in_the_middle() -> None:
    minutes, inside, outside, pressure = readings()
    outside = outside - 14
    inside[150:], outside[150:] = outside[150:].copy(), inside[150:].copy()
    plan = replace(PLAN, outside_hold_c=125.0, start_c=115.0)
    judgement = judged(minutes, inside, outside, pressure, plan=plan)
    swapped = [each for each in judgement.findings if each.kind is FindingKind.SWAPPED_SENSORS]
    assert [(each.from_min, each.to_min) for each in swapped] == [(149, 150)]


def test_sensors_swapped_throughout_are_seen_against_the_plan() -> None:
    minutes, inside, outside, pressure = readings()
    plan = replace(PLAN, inside_hold_c=125.0, start_c=115.0)
    judgement = judged(minutes, inside, outside - 14, pressure, plan=plan)
    assert FindingKind.SWAPPED_SENSORS in kinds(judgement)


def test_fahrenheit_labelled_celsius_is_told_for_both_pads() -> None:
    """140 °C = 284 °F."""
    minutes, inside, outside, pressure = readings()
    judgement = judged(minutes, inside * 1.8 + 32, outside * 1.8 + 32, pressure)
    told = [each.message for each in judgement.findings if each.kind is FindingKind.WRONG_UNIT]
    assert told[0] == "inside pad holds 284 °C as read: °F labelled °C? Then 140 °C"
    assert len(told) == 2
    assert judgement.verdict is CureVerdict.NEEDS_DECISION


def test_fahrenheit_named_in_the_mapping_is_within_plan() -> None:
    minutes, inside, outside, pressure = readings()
    mapping = replace(COLUMNS, temperature_unit=TemperatureUnit.FAHRENHEIT)
    judgement = judged(minutes, inside * 1.8 + 32, outside * 1.8 + 32, pressure, mapping=mapping)
    assert judgement.verdict is CureVerdict.WITHIN_PLAN


def test_kilopascal_read_as_psi_is_told() -> None:
    minutes, inside, outside, pressure = readings()
    assert kinds(judged(minutes, inside, outside, pressure * 6.894757)) == {FindingKind.WRONG_UNIT}


def test_pressure_dip_is_told_with_its_minutes() -> None:
    """15 psi is 103 kPa; six readings a minute apart."""
    minutes, inside, outside, pressure = readings()
    pressure[100:106] = 15.0
    judgement = judged(minutes, inside, outside, pressure)
    assert failed(judgement) == {"pressure"}
    assert "falls to 103 kPa, 6 min too low from 100 min on" in judgement.why[0]


def test_bags_too_high_are_told() -> None:
    """45 psi is 310 kPa; held from the log's start until 280 min."""
    minutes, inside, outside, pressure = readings()
    judgement = judged(minutes, inside, outside, pressure * 1.5)
    assert failed(judgement) == {"pressure"}
    assert "rises to 310 kPa, 279 min too high from 0 min on" in judgement.why[0]


def test_a_dip_during_the_heat_up_counts_once_the_bags_were_up() -> None:
    minutes, inside, outside, pressure = readings()
    pressure[10:14] = 0
    assert failed(judged(minutes, inside, outside, pressure)) == {"pressure"}
    pressure[:14] = 0
    assert failed(judged(minutes, inside, outside, pressure)) == set()


@pytest.mark.parametrize(("figure", "words"), [(2.0684, "bar labelled psi"), (206.84, "kPa labelled psi")])
def test_any_unit_for_any_other(figure: float, words: str) -> None:
    """30 psi is 2.068 bar and 206.8 kPa, here read as so many psi."""
    minutes, inside, outside, pressure = readings()
    judgement = judged(minutes, inside, outside, pressure * figure / 30)
    assert any(words in each.message for each in judgement.findings)


def test_what_pads_of_a_doubtful_unit_are_worth_is_not_told() -> None:
    minutes, inside, outside, pressure = readings()
    assert judged(minutes, inside * 1.8 + 32, outside * 1.8 + 32, pressure).worth is None


def test_a_stretch_of_empty_cells_is_a_gap() -> None:
    minutes, inside, outside, pressure = readings()
    inside[100:112] = np.nan
    judgement = judged(minutes, inside, outside, pressure)
    gap = next(each for each in judgement.findings if each.kind is FindingKind.GAP)
    assert (gap.from_min, gap.to_min, gap.message) == (99, 112, "no readings for 13 min")
    (timed,) = [each for each in judgement.checks if each.name == "time_at_temperature"]
    assert timed.message.startswith("185 min")  # 198 less the 13


@pytest.mark.parametrize("step_min", [1 / 60, 1 / 6, 1.0])
def test_a_noisy_good_log_is_within_plan(step_min: float) -> None:
    """0.3 °C of noise, as thermocouples have, crosses the start temperature many times."""
    noise = np.random.default_rng(7)
    minutes, inside, outside, pressure = readings(step_min)
    inside, outside = (pad + noise.normal(0, 0.3, len(pad)) for pad in (inside, outside))
    assert judged(minutes, inside, outside, pressure).why == ()


def test_readings_by_hand_every_quarter_of_an_hour() -> None:
    minutes, *others = readings()
    kept = (minutes % 15 == 0) | np.isin(minutes, (32, 229))
    judgement = judged(
        minutes[kept], *(each[kept].round() for each in others), plan=replace(PLAN, gap_min=15.0)
    )
    assert judgement.verdict is CureVerdict.WITHIN_PLAN


def test_swapped_during_the_heat_up() -> None:
    """Both rise by 2 °C a minute: the swap shows in their difference alone."""
    minutes, inside, outside, pressure = readings()
    outside = outside - 3
    inside[15:25], outside[15:25] = outside[15:25].copy(), inside[15:25].copy()
    found = judged(minutes, inside, outside, pressure).findings
    assert [(each.kind, each.from_min) for each in found] == [
        (FindingKind.SWAPPED_SENSORS, 14),
        (FindingKind.SWAPPED_SENSORS, 24),
    ]


@pytest.mark.parametrize(
    ("place", "passed"), [(ReleasePlace.INSIDE_FACE, True), (ReleasePlace.HOTTEST, False)]
)
def test_released_where_it_is_measured(place: ReleasePlace, passed: bool) -> None:
    """Pads at 87 °C when let go, while the middle of 60 mm lags far behind them."""
    judgement = judged(*readings(), plan=replace(PLAN, release_place=place))
    (release,) = [each for each in judgement.checks if each.name == "release"]
    assert release.passed is passed
    assert ("the hottest point at 120.4 °C by the model" in release.message) is not passed


def test_without_the_repair_the_pads_answer_and_it_is_said() -> None:
    plan = replace(PLAN, release_place=ReleasePlace.HOTTEST, case=None)
    (release,) = [each for each in judged(*readings(), plan=plan).checks if each.name == "release"]
    assert release.passed
    assert "the hottest point not known" in release.message


def test_short_cure() -> None:
    """198 min at temperature in the log; 220 planned."""
    judgement = judged(*readings(), plan=replace(PLAN, timed_min=220))
    assert failed(judgement) == {"time_at_temperature"}


def test_pads_that_settle_too_low_for_the_charts_minutes() -> None:
    """128 °C is above the timer's 120 and 12 below the hold; common practice allows 5."""
    minutes, inside, outside, pressure = readings()
    judgement = judged(minutes, np.minimum(inside, 128), np.minimum(outside, 128), pressure)
    assert failed(judgement) == {"settling"}


def test_each_pad_has_a_hold_of_its_own() -> None:
    """An outside pad planned at 125 °C that goes to 139 passes it, although the inside may have 140."""
    judgement = judged(*readings(), plan=replace(PLAN, outside_hold_c=125.0))
    assert "the outside pad reaches 139 °C, at most 130 °C" in " ".join(judgement.why)


def test_overshoot() -> None:
    minutes, inside, outside, pressure = readings()
    inside[90:120] += 8
    assert failed(judged(minutes, inside, outside, pressure)) == {"overshoot"}


def test_faces_apart() -> None:
    minutes, inside, outside, pressure = readings()
    outside[80:150] -= np.interp(np.arange(70), [0, 10, 60, 69], [0, 13, 13, 0])
    assert failed(judged(minutes, inside, outside, pressure)) == {"together"}


def test_pad_that_falls_below_the_start_while_timed() -> None:
    minutes, inside, outside, pressure = readings()
    fall = np.interp(np.arange(60), [0, 20, 40, 59], [0, 25, 25, 0])
    inside[80:140] -= fall
    outside[80:140] -= fall
    assert "hold" in failed(judged(minutes, inside, outside, pressure))


def test_released_hot() -> None:
    """At 240 min the pads are at 140 − 40 · 60/90 = 113 °C."""
    minutes, inside, outside, _ = readings()
    judgement = judged(minutes, inside, outside, np.where(minutes < 240, 30.0, 0.0))
    assert failed(judgement) == {"release"}
    assert "113 °C" in judgement.why[0]


def test_cold_preheat() -> None:
    minutes, inside, outside, pressure = readings()
    start = np.interp(minutes, [0, 20], [25, 0])
    assert "preheat" in failed(judged(minutes, inside - start, outside - start, pressure))


def test_pads_that_never_reach_the_start() -> None:
    minutes, inside, outside, pressure = readings()
    judgement = judged(minutes, inside, np.minimum(outside, 110), pressure)
    assert {"timer_start", "time_at_temperature"} <= failed(judgement)
    assert judgement.verdict is CureVerdict.NEEDS_DECISION


def test_pressure_that_was_never_logged_cannot_be_answered() -> None:
    mapping = replace(COLUMNS, pressure=())
    judgement = judged(*readings(), mapping=mapping)
    unanswered = {check.name for check in judgement.checks if check.passed is None}
    assert unanswered == {"pressure", "release"}
    assert judgement.verdict is CureVerdict.NEEDS_DECISION


def test_slowest_point_from_the_measured_faces() -> None:
    """The band holds the likely figure; a thick repair on the same log is short even so."""
    thin = cure_judge(good_log(), PLAN).worth
    assert thin is not None
    assert thin.target_min < thin.least_min < thin.likely_min < thin.most_min
    assert thin.depth_m == pytest.approx(0.03, abs=0.002)
    thick = cure_judge(good_log(), replace(PLAN, case=case(120)))
    assert thick.verdict is CureVerdict.NEEDS_DECISION
    assert "equivalent minutes it must have" in thick.why[-1]


def test_a_gap_widens_the_band_downwards_only() -> None:
    minutes, *others = readings()
    kept = (minutes <= 190) | (minutes >= 230)
    whole = cure_judge(good_log(), PLAN).worth
    holed = judged(minutes[kept], *(each[kept] for each in others)).worth
    assert whole is not None
    assert holed is not None
    assert holed.least_min < whole.least_min - 1
