"""A logger's file as curves and moments, for a drawing: read again from its own bytes each time."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

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


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceEvent:
    """A moment or an oddity of the log [min]; a moment has no length."""

    words: str
    from_min: float
    to_min: float
    odd: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CureTrace:
    """The curves of a log over its elapsed minutes [min, °C, kPa], its planned levels and its events."""

    minutes: Sequence[float]
    inside_c: Curve
    outside_c: Curve
    pressure_kpa: Curve
    plan: dict[str, Any]
    events: tuple[TraceEvent, ...]


def cure_trace_get(*, logged_cure: LoggedCure) -> CureTrace:
    """The trace of a log that is on file."""
    plan = CurePlan(**logged_cure.plan)
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
    span = judgement.span
    moments = (("timer starts", span.timer), ("pads off", span.off), ("pressure let go", span.released))
    events = [
        TraceEvent(words=words, from_min=float(log.time_min[row]), to_min=float(log.time_min[row]), odd=False)
        for words, row in moments
        if row is not None
    ]
    events += [
        TraceEvent(words=found.message, from_min=found.from_min, to_min=found.to_min, odd=True)
        for found in judgement.findings
    ]
    # A curve is not drawn across a gap: where nothing was read, nothing is shown.
    gaps = np.flatnonzero(log.step_min > plan.gap_min) + 1
    return CureTrace(
        minutes=np.insert(log.time_min, gaps, log.time_min[gaps]).tolist(),
        inside_c=_curve(log.inside_c, gaps),
        outside_c=_curve(log.outside_c, gaps),
        pressure_kpa=_curve(log.pressure_kpa, gaps) if len(log.pressure_kpa) else [],
        plan=plan_words(plan),
        events=tuple(sorted(events, key=lambda event: event.from_min)),
    )


def plan_words(plan: CurePlan) -> dict[str, Any]:
    """The plan's figures by name, without the repair itself."""
    names = [name for name in CurePlan.__slots__ if name != "case"]
    return {name: getattr(plan, name) for name in names}


def _curve(values: FloatArray, gaps: NDArray[np.intp]) -> Curve:
    return [value if np.isfinite(value) else None for value in np.insert(values, gaps, np.nan).tolist()]
