"""What a plan asks of a log: one small check for each."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.domain.cure_limits import ReleasePlace
from planner.domain.sentences import Sentence, _, joined
from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.plan import CurePlan
from planner.engineering.cure_log.span import READ_C, CureSpan
from planner.engineering.cure_log.worth import LoggedWorth

FIRST_MIN = 5.0
"""The preheat is what the first minutes of the log show [min]."""

FACES = (ReleasePlace.INSIDE_FACE, ReleasePlace.OUTSIDE_FACE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One question of the plan to the log; `passed` is None where the log cannot answer."""

    name: str
    passed: bool | None
    message: Sentence


NAMES = {
    "preheat": _("preheat"),
    "timer_start": _("timer start"),
    "time_at_temperature": _("time at temperature"),
    "hold": _("hold"),
    "settling": _("settling"),
    "overshoot": _("overshoot"),
    "together": _("together"),
    "pressure": _("pressure"),
    "release": _("release"),
}
"""What each check is called."""

CheckRule = Callable[[CureLog, CurePlan, CureSpan], Check]


def preheat(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Both pads inside the preheat band when the log starts."""
    first = log.time_min <= log.time_min[0] + FIRST_MIN
    low, high = float(np.nanmin(span.cooler_c[first])), float(np.nanmin(span.warmer_c[first]))
    return Check(
        name="preheat",
        passed=plan.preheat_low_c <= low and high <= plan.preheat_high_c,
        message=_(
            "pads start at {low:.0f °C} and {high:.0f °C}, planned {preheat_low_c:.0f °C} to "
            "{preheat_high_c:.0f °C}",
            low=low,
            high=high,
            preheat_low_c=plan.preheat_low_c,
            preheat_high_c=plan.preheat_high_c,
        ),
    )


def timer_start(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Both pads reach the temperature that starts the timer."""
    if span.timer is None:
        top = float(np.nanmax(span.cooler_c))
        text = _(
            "the cooler pad only reaches {top:.0f °C}, the timer starts at {start_c:.0f °C}",
            top=top,
            start_c=plan.start_c,
        )
        return Check(name="timer_start", passed=False, message=text)
    text = _(
        "both pads at {start_c:.0f °C} after {time_min:.0f} min",
        start_c=plan.start_c,
        time_min=log.time_min[span.timer],
    )
    return Check(name="timer_start", passed=True, message=text)


def timed_minutes(log: CureLog, plan: CurePlan, span: CureSpan) -> float:
    """Minutes with both pads at the start temperature or above, dips and gaps left out [min]."""
    rows = log.seen[(log.seen >= span.timed.start) & (log.seen < span.timed.stop)]
    hot = span.cooler_c[rows] >= plan.start_c - READ_C
    step = np.diff(log.time_min[rows])
    return float(step[hot[:-1] & hot[1:] & (step <= plan.gap_min)].sum())


def time_at_temperature(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """As many minutes at temperature as planned."""
    minutes = timed_minutes(log, plan, span)
    text = _(
        "{minutes:.0f} min at {start_c:.0f °C} or above, planned {timed_min} min",
        minutes=minutes,
        start_c=plan.start_c,
        timed_min=plan.timed_min,
    )
    return Check(name="time_at_temperature", passed=minutes >= plan.timed_min - 1, message=text)


def hold(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """No pad falls below the start temperature while timed."""
    cooler = span.cooler_c[span.timed]
    if not len(cooler):
        return _unanswered("hold", _("no timed part"))
    low = float(cooler.min())
    text = _(
        "the cooler pad falls to {low:.0f °C} while timed, planned {start_c:.0f °C} or above",
        low=low,
        start_c=plan.start_c,
    )
    passed = low >= plan.start_c - 2 * READ_C  # once there, it may swing by as much as it is read
    if passed:
        text = _("the cooler pad stays at {low:.0f °C} or above while timed", low=low)
    return Check(name="hold", passed=passed, message=text)


def settling(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Both pads settle where the chart's minutes suppose them: for half of the timed part at least."""
    rows = span.timed
    if rows.stop == rows.start:
        return _unanswered("settling", _("no timed part"))
    inside, outside = float(np.median(span.inside_c[rows])), float(np.median(span.outside_c[rows]))
    planned = (plan.inside_hold_c, plan.outside_hold_c)
    low = any(
        level < wanted - plan.hold_slack_c for level, wanted in zip((inside, outside), planned, strict=True)
    )
    text = _(
        "pads settle at {inside:.0f °C} inside and {outside:.0f °C} outside, planned "
        "{inside_hold_c:.0f °C} and {outside_hold_c:.0f °C}, at most {hold_slack_c:.0f Δ°C} less",
        inside=inside,
        outside=outside,
        inside_hold_c=planned[0],
        outside_hold_c=planned[1],
        hold_slack_c=plan.hold_slack_c,
    )
    return Check(name="settling", passed=not low, message=text)


def overshoot(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """No pad passes its own hold by more than the plan allows; spikes are told of elsewhere."""
    pads = (
        (_("inside"), span.inside_c, plan.inside_hold_c),
        (_("outside"), span.outside_c, plan.outside_hold_c),
    )
    tops = [(name, float(np.nanmax(pad)), hold_c + plan.overshoot_c) for name, pad, hold_c in pads]
    name, top, limit = max(tops, key=lambda each: each[1] - each[2])
    text = _(
        "the {name:phrase} pad reaches {top:.0f °C}, at most {limit:.0f °C}", name=name, top=top, limit=limit
    )
    return Check(name="overshoot", passed=top <= limit, message=text)


def together(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Both faces stay together while timed, beside what the plan itself sets apart."""
    rows = span.timed
    if rows.stop == rows.start:
        return _unanswered("together", _("no timed part"))
    apart = span.warmer_c[rows] - span.cooler_c[rows]
    limit = plan.together_c + abs(plan.inside_hold_c - plan.outside_hold_c)
    text = _(
        "pads lie up to {apart:.0f Δ°C} apart while timed, at most {limit:.0f Δ°C} apart",
        apart=float(apart.max()),
        limit=limit,
    )
    return Check(name="together", passed=bool(apart.max() <= limit), message=text)


def pressure(log: CureLog, plan: CurePlan, span: CureSpan) -> Check:
    """Pressure held, once it is there and from the timer's start at the latest, until it is let go."""
    if not len(log.pressure_kpa) or span.timer is None:
        return _unanswered("pressure", _("no pressure was logged while timed"))
    least, most = plan.pressure_kpa - plan.pressure_slack_kpa, plan.pressure_kpa + plan.pressure_slack_kpa
    up = np.flatnonzero(log.pressure_kpa[: span.timer] >= least)
    start = int(up[0]) if len(up) else span.timer
    stop = span.released if span.released is not None else len(log.time_min)
    told = log.pressure_kpa[start:stop]
    wrong = ~((told >= least) & (told <= most))
    if not wrong.any():
        text = _("held between {least:.0f kPa} and {most:.0f kPa}", least=np.min(told), most=np.max(told))
        return Check(name="pressure", passed=True, message=text)
    text = _(
        "{fault}; planned {pressure_kpa:.0f kPa}",
        fault=_pressure_fault(log.time_min[start:stop], told, least, most),
        pressure_kpa=plan.pressure_kpa,
    )
    return Check(name="pressure", passed=False, message=text)


def _pressure_fault(
    time_min: NDArray[np.float64], told: NDArray[np.float64], least: float, most: float
) -> Sentence:
    """How far the bags were off, for how long and from when, too low before too high."""
    low, high = told < least, told > most
    step = np.diff(time_min, append=time_min[-1])
    parts: list[Sentence] = []
    if low.any():
        figures = {"bags": np.min(told[low]), "minutes": step[low].sum(), "begin": time_min[low][0]}
        parts.append(
            _("falls to {bags:.0f kPa}, {minutes:.0f} min too low from {begin:.0f} min on", **figures)
        )
    if high.any():
        figures = {"bags": np.max(told[high]), "minutes": step[high].sum(), "begin": time_min[high][0]}
        parts.append(
            _("rises to {bags:.0f kPa}, {minutes:.0f} min too high from {begin:.0f} min on", **figures)
        )
    missing = int(np.isnan(told).sum())
    if missing:
        parts.append(_("{count} readings are missing", count=missing))
    return joined(parts, "series")


RULES: tuple[CheckRule, ...] = (
    preheat,
    timer_start,
    time_at_temperature,
    hold,
    settling,
    overshoot,
    together,
    pressure,
)


def release(plan: CurePlan, span: CureSpan, worth: LoggedWorth | None) -> Check:
    """Pressure let go only when the repair is below the release temperature where the plan measures it.

    A pad tells the temperature of its face. Inside the repair the model tells it from the measured pads;
    where the repair is not known, the warmer pad answers alone and the message says so.
    """
    if span.released is None:
        return _unanswered("release", _("the log does not show the pressure being let go"))
    pads = {"inside_face": span.inside_c, "outside_face": span.outside_c}.get(
        plan.release_place, span.warmer_c
    )
    at_pad = float(pads[span.released])
    name = plan.release_place.words if plan.release_place in FACES else _("the warmer pad")
    inside = Sentence("")
    passed = at_pad < plan.release_c
    if plan.release_place not in FACES:
        inside_c = None if worth is None else worth.release_c
        inside = _inside_words(plan, inside_c)
        passed = passed and (inside_c is None or inside_c < plan.release_c)
    text = _(
        "let go with {name:phrase} at {at_pad:.0f °C}{inside}, planned below {release_c:.0f °C}",
        name=name, at_pad=at_pad, inside=inside, release_c=plan.release_c,
    )  # fmt: skip
    return Check(name="release", passed=passed, message=text)


def _inside_words(plan: CurePlan, inside_c: float | None) -> Sentence:
    place = plan.release_place.words
    if inside_c is None:
        return _(" and {place:phrase} not known", place=place)
    return _(" and {place:phrase} at {inside:.1f °C} by the model", place=place, inside=inside_c)


def _unanswered(name: str, why: Sentence) -> Check:
    return Check(name=name, passed=None, message=why)
