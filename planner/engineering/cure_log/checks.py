"""What a plan asks of a log: one small check for each."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.plan import CurePlan
from planner.engineering.cure_log.span import READ_C, CureSpan

FIRST_MIN = 5.0
"""The preheat is what the first minutes of the log show [min]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One question of the plan to the log; `passed` is None where the log cannot answer."""

    name: str
    passed: bool | None
    message: str


CheckRule = Callable[[CureLog, CurePlan, CureSpan], Check]


def preheat(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Both pads inside the preheat band when the log starts."""
    first = log.time_min <= log.time_min[0] + FIRST_MIN
    low, high = float(np.nanmin(span.cooler_c[first])), float(np.nanmin(span.warmer_c[first]))
    return Check(
        name="preheat",
        passed=plan.preheat_low_c <= low and high <= plan.preheat_high_c,
        message=f"pads start at {low:.0f} and {high:.0f} °C, planned {plan.preheat_low_c:.0f}"
        f"–{plan.preheat_high_c:.0f} °C",
    )


def timer_start(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Both pads reach the temperature that starts the timer."""
    if span.timer is None:
        top = float(np.nanmax(span.cooler_c))
        text = f"the cooler pad only reaches {top:.0f} °C, the timer starts at {plan.start_c:.0f} °C"
        return Check(name="timer_start", passed=False, message=text)
    text = f"both pads at {plan.start_c:.0f} °C after {log.time_min[span.timer]:.0f} min"
    return Check(name="timer_start", passed=True, message=text)


def timed_minutes(log: CureLog, plan: CurePlan, span: CureSpan) -> float:
    """Minutes with both pads at the start temperature or above, dips and gaps left out [min]."""
    rows = span.timed
    hot = span.cooler_c[rows] >= plan.start_c - READ_C
    step = np.diff(log.time_min[rows])
    return float(step[hot[:-1] & hot[1:] & (step <= plan.gap_min)].sum())


def time_at_temperature(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """As many minutes at temperature as planned."""
    minutes = timed_minutes(log, plan, span)
    text = f"{minutes:.0f} min at {plan.start_c:.0f} °C or above, planned {plan.timed_min} min"
    return Check(name="time_at_temperature", passed=minutes >= plan.timed_min - 1, message=text)


def hold(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """No pad falls below the start temperature while timed."""
    cooler = span.cooler_c[span.timed]
    if not len(cooler):
        return _unanswered("hold", "no timed part")
    low = float(cooler.min())
    passed = low >= plan.start_c - READ_C
    return Check(
        name="hold", passed=passed, message=f"the cooler pad stays at {low:.0f} °C or above while timed"
    )


def overshoot(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """No pad passes its hold by more than the plan allows; spikes are told of elsewhere."""
    limit = max(plan.inside_hold_c, plan.outside_hold_c) + plan.overshoot_c
    top = float(np.nanmax(span.warmer_c))
    return Check(
        name="overshoot", passed=top <= limit, message=f"pads reach {top:.0f} °C, at most {limit:.0f} °C"
    )


def together(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Both faces stay together while timed, beside what the plan itself sets apart."""
    rows = span.timed
    if rows.stop == rows.start:
        return _unanswered("together", "no timed part")
    apart = span.warmer_c[rows] - span.cooler_c[rows]
    limit = plan.together_c + abs(plan.inside_hold_c - plan.outside_hold_c)
    text = f"pads lie up to {apart.max():.0f} °C apart while timed, at most {limit:.0f} °C"
    return Check(name="together", passed=bool(apart.max() <= limit), message=text)


def pressure(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Pressure held from the timer's start until it is let go."""
    if not len(log.pressure_kpa) or span.timer is None:
        return _unanswered("pressure", "no pressure was logged while timed")
    stop = span.released if span.released is not None else len(log.time_min)
    rows = slice(span.timer, stop)
    low = ~(log.pressure_kpa[rows] >= plan.pressure_kpa - plan.pressure_slack_kpa)
    if not low.any():
        return Check(
            name="pressure", passed=True, message=f"held at {np.min(log.pressure_kpa[rows]):.0f} kPa or more"
        )
    minutes = float(np.diff(log.time_min[rows], append=log.time_min[stop - 1])[low].sum())
    first = log.time_min[rows][low][0]
    least = np.nanmin(log.pressure_kpa[rows])
    text = f"falls to {least:.0f} kPa, {minutes:.0f} min too low from {first:.0f} min on"
    return Check(name="pressure", passed=False, message=f"{text}; planned {plan.pressure_kpa:.0f} kPa")


def release(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Pressure let go only when both pads are below the release temperature."""
    if span.released is None:
        return _unanswered("release", "the log does not show the pressure being let go")
    top = float(span.warmer_c[span.released])
    text = f"let go with the warmer pad at {top:.0f} °C, planned below {plan.release_c:.0f} °C"
    return Check(name="release", passed=top < plan.release_c, message=text)


def _unanswered(name: str, why: str) -> Check:
    return Check(name=name, passed=None, message=why)


RULES: tuple[CheckRule, ...] = (
    preheat,
    timer_start,
    time_at_temperature,
    hold,
    overshoot,
    together,
    pressure,
    release,
)
