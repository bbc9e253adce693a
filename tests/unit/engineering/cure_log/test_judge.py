"""Logs with planted faults: each is found, told and never repaired."""

from dataclasses import replace

import numpy as np
import pytest

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


def test_short_cure() -> None:
    """198 min at temperature in the log; 220 planned."""
    judgement = judged(*readings(), plan=replace(PLAN, timed_min=220))
    assert failed(judgement) == {"time_at_temperature"}


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
