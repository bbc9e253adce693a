"""Elapsed minutes from a logger's times; jumps of its clock are told, never hidden."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import numpy as np

from planner.domain.sentences import Sentence, _
from planner.engineering.cure_log.finding import Finding, FindingKind
from planner.engineering.heat.tridiagonal import FloatArray

LONG_STEP = 1.5
"""A step of more than so many usual ones may leave out the hour of a clock change [-]."""


def usual_step_min(step_min: FloatArray) -> float:
    """The middle one of the forward steps [min]."""
    forward = step_min[step_min > 0]
    return float(np.median(forward)) if len(forward) else 1.0


def elapsed_from_clock(
    times: Sequence[datetime], time_zone: str | None
) -> tuple[FloatArray, tuple[Finding, ...]]:
    """Elapsed minutes of clock readings and what was odd about the clock.

    A step back that the zone's own change of clock explains, or one forward over the hour that the zone
    leaves out, counts at its true length and is told as a clock change. A step back that nothing explains
    counts as one usual step and is told as a jump.

    Args:
        times: as logged, in the order of the log.
        time_zone: of the logger's clock, if known.

    Returns:
        minutes after the first reading, and findings.

    """
    step_min = np.array([(two - one).total_seconds() / 60 for one, two in pairwise(times)])
    usual = usual_step_min(step_min)
    told: list[tuple[int, FindingKind, Sentence]] = []
    odd = (step_min < 0) | (step_min > LONG_STEP * usual)
    for place in map(int, np.flatnonzero(odd)):
        kind, true_min = _explain(times[place], times[place + 1], time_zone, usual)
        if kind is None:
            continue
        moved = step_min[place] - true_min
        told.append((place, kind, _message(kind, times[place], float(moved))))
        step_min[place] = true_min
    elapsed = np.concatenate([[0.0], np.cumsum(step_min)])
    return elapsed, tuple(
        Finding(kind=kind, message=text, from_min=float(elapsed[place]), to_min=float(elapsed[place + 1]))
        for place, kind, text in told
    )


def elapsed_as_told(elapsed_min: FloatArray) -> tuple[FloatArray, tuple[Finding, ...]]:
    """Elapsed minutes of a logger that counts itself; a count that goes back is a jump [min]."""
    start = datetime(2000, 1, 1)  # noqa: DTZ001 - only differences are used
    return elapsed_from_clock([start + timedelta(minutes=float(each)) for each in elapsed_min], None)


def _explain(
    before: datetime, after: datetime, time_zone: str | None, usual_min: float
) -> tuple[FindingKind | None, float]:
    """Why a step is odd and how long it truly was [min]; None for a plain gap."""
    step_min = (after - before).total_seconds() / 60
    if time_zone is not None and before.tzinfo is None:
        zone = ZoneInfo(time_zone)
        forward = step_min >= 0  # then nothing is told twice, and the earlier meaning of each time is meant
        offsets = [
            each.replace(tzinfo=zone, fold=fold).utcoffset() or timedelta()
            for each, fold in ((before, 0), (after, 0 if forward else 1))
        ]
        change_min = (offsets[1] - offsets[0]).total_seconds() / 60
        true_min = step_min - change_min
        if change_min and forward == (change_min > 0) and true_min >= usual_min / 2:
            return FindingKind.CLOCK_CHANGE, true_min
    return (FindingKind.CLOCK_JUMP, usual_min) if step_min < 0 else (None, step_min)


def _message(kind: FindingKind, before: datetime, moved_min: float) -> Sentence:
    figures = {"minutes": abs(moved_min), "before": f"{before:%Y-%m-%d %H:%M:%S}"}
    figure = _("the clock went back by {minutes:.0f} min after {before}", **figures)
    if moved_min > 0:
        figure = _("the clock went forward by {minutes:.0f} min after {before}", **figures)
    if kind is FindingKind.CLOCK_CHANGE:
        return _("{figure}, as its time zone does; elapsed minutes are counted through it", figure=figure)
    return _(
        "{figure} and nothing explains it: check the logger's clock, or name its time zone", figure=figure
    )
