"""A log as curves and moments, for a drawing: thinned and kept with the log when it is imported."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.domain.cure_limits import ReleasePlace
from planner.domain.sentences import Sentence, _, kept, recalled
from planner.engineering.cure_log.columns import ColumnMap
from planner.engineering.cure_log.judge import CureJudgement, cure_judge
from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.plan import CurePlan
from planner.engineering.cure_log.read import cure_log_read
from planner.engineering.heat.tridiagonal import FloatArray
from planner.models import LoggedCure
from planner.selectors.cures import column_map_of
from planner.services.cure_log_file import cure_log_rows

Curve = Sequence[float | None]

STRETCHES = 400
"""A long log is thinned to the least and greatest reading of so many stretches: no spike is lost [-]."""

DIGITS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceEvent:
    """A moment or an oddity of the log [min]; a moment has no length."""

    words: Sentence
    from_min: float
    to_min: float
    odd: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CureTrace:
    """The curves of a log over its elapsed minutes [min, °C, kPa], its planned levels and its events.

    `readings` counts those of the log itself, of which a long one shows fewer.
    """

    readings: int
    minutes: Sequence[float]
    inside_c: Curve
    outside_c: Curve
    pressure_kpa: Curve
    plan: dict[str, Any]
    events: tuple[TraceEvent, ...]


def cure_trace_get(*, logged_cure: LoggedCure) -> CureTrace:
    """The trace of a log that is on file; one from before traces were kept is read again."""
    if logged_cure.trace is not None:
        return _kept_trace(logged_cure.trace, logged_cure.plan)
    kept = {name: value for name, value in logged_cure.plan.items() if name in CurePlan.__slots__}
    place = ReleasePlace(kept.pop("release_place", ReleasePlace.HOTTEST))
    plan = CurePlan(**kept, release_place=place)
    raw, columns = bytes(logged_cure.file_raw), column_map_of(logged_cure.columns)
    log = cure_log_read(cure_log_rows(raw=raw, name=logged_cure.file_name), columns)
    return trace_of(log, plan, cure_judge(log, plan))


def cure_log_look(
    *, raw: bytes, name: str, columns: ColumnMap, plan: CurePlan
) -> tuple[CureJudgement, CureTrace]:
    """Judge a file without keeping anything of it; InvalidValueError where it cannot be read."""
    log = cure_log_read(cure_log_rows(raw=raw, name=name), columns)
    judgement = cure_judge(log, plan)
    return judgement, trace_of(log, plan, judgement)


def trace_of(log: CureLog, plan: CurePlan, judgement: CureJudgement) -> CureTrace:
    """The curves of a log with its moments and oddities in the order of time."""
    # A curve is not drawn across a gap: where nothing was read, nothing is shown.
    gaps = np.flatnonzero(np.diff(log.time_min) > plan.gap_min) + 1
    curves = [log.inside_c, log.outside_c, *([log.pressure_kpa] if len(log.pressure_kpa) else [])]
    broken = [np.insert(curve, gaps, np.nan) for curve in curves]
    shown = _shown(broken)
    inside, outside, *bags = (_curve(curve[shown]) for curve in broken)
    return CureTrace(
        readings=len(log.time_min),
        minutes=np.insert(log.time_min, gaps, log.time_min[gaps])[shown].round(DIGITS).tolist(),
        inside_c=inside,
        outside_c=outside,
        pressure_kpa=bags[0] if bags else [],
        plan=plan_words(plan),
        events=tuple(sorted(_events(log, judgement), key=lambda event: event.from_min)),
    )


def trace_words(trace: CureTrace) -> dict[str, Any]:
    """A trace as it is kept; the plan is kept beside it."""
    words = asdict(trace)
    del words["plan"]
    words["events"] = [{**each, "words": kept(each["words"])} for each in words["events"]]
    return words


def plan_words(plan: CurePlan) -> dict[str, Any]:
    """The plan's figures by name, without the repair itself."""
    names = [name for name in CurePlan.__slots__ if name != "case"]
    return {name: getattr(plan, name) for name in names}


def _kept_trace(words: Mapping[str, Any], plan: dict[str, Any]) -> CureTrace:
    events = tuple(TraceEvent(**{**each, "words": recalled(each["words"])}) for each in words["events"])
    return CureTrace(**{**words, "events": events, "plan": plan})


def _events(log: CureLog, judgement: CureJudgement) -> Iterator[TraceEvent]:
    if log.began:
        begin = float(log.time_min[0])
        words = _("the log begins at {began} by its own clock", began=log.began)
        yield TraceEvent(words=words, from_min=begin, to_min=begin, odd=False)
    span = judgement.span
    moments = (
        (_("timer starts"), span.timer),
        (_("pads off"), span.off),
        (_("pressure let go"), span.released),
    )
    for words, row in moments:
        if row is not None:
            at = float(log.time_min[row])
            yield TraceEvent(words=words, from_min=at, to_min=at, odd=False)
    for found in judgement.findings:
        yield TraceEvent(words=found.message, from_min=found.from_min, to_min=found.to_min, odd=True)


def _shown(curves: Sequence[FloatArray]) -> NDArray[np.intp]:
    """Which readings a drawing needs: of each stretch the ends, every curve's extremes, and a gap."""
    count = len(curves[0])
    stride = max(1, count // STRETCHES)
    if stride <= 2:
        return np.arange(count)
    places = {0, count - 1}
    for start in range(0, count, stride):
        places.update(place for curve in curves for place in _telling(curve[start : start + stride], start))
    return np.array(sorted(places))


def _telling(stretch: FloatArray, start: int) -> Iterator[int]:
    missing = np.isnan(stretch)
    if missing.any():
        yield start + int(missing.argmax())
    if not missing.all():
        yield start + int(np.nanargmin(stretch))
        yield start + int(np.nanargmax(stretch))


def _curve(values: FloatArray) -> Curve:
    return [round(value, DIGITS) if np.isfinite(value) else None for value in values.tolist()]
