"""Gaps, spikes, swapped sensors and wrong units: one small detector for each."""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import label, median_filter

from planner.domain.sentences import Sentence, _
from planner.domain.units import KPA_PER_PSI
from planner.engineering.cure_log.finding import Finding, FindingKind
from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.plan import CurePlan
from planner.engineering.heat.tridiagonal import FloatArray

SPIKE_C = 15.0
"""A reading this far from the middle of its seven neighbours is a spike [°C]."""

SPIKE_WINDOW = 7
SWAP_C = 2.0
"""Pads closer than this are not told apart [°C]."""

DRIFT_C_MIN = 1.0
"""So fast may one pad truly pass the other [°C/min]."""

HOLD_APART_C = 5.0
"""Planned holds closer than this do not tell which pad is which [°C]."""

SWAP_NOISE = 6.0
"""A swap must stand out from the usual change of the pads' difference so many times [-]."""

UNIT_C = 25.0
"""Pads this far from their plan may be in another unit [°C]."""

NEAR_C = 15.0
PER_KPA = {"kPa": 1.0, "psi": KPA_PER_PSI, "bar": 100.0}
MISLABELLED = {
    (meant, told): PER_KPA[meant] / PER_KPA[told] for meant in PER_KPA for told in PER_KPA if meant != told
}
"""What the reading must be multiplied by if its unit is another one [-]."""

SHOWN = 20
"""At most so many findings of a kind are listed one by one [-]."""


def oddities(log: CureLog, plan: CurePlan) -> tuple[Finding, ...]:
    """Everything odd about a log, what was found while reading it first."""
    detectors = (gaps, spikes, swaps, swapped_throughout, wrong_units)
    found = [list(detector(log, plan)) for detector in detectors]
    return tuple(finding for each in (log.findings, *found) for finding in _shown(each))


def _shown(findings: Sequence[Finding]) -> Iterator[Finding]:
    """The first of many, and how many more there are."""
    yield from findings[:SHOWN]
    more = findings[SHOWN:]
    if more:
        text = _("{count} more like these", count=len(more))
        yield Finding(kind=more[0].kind, message=text, from_min=more[0].from_min, to_min=more[-1].to_min)


def gaps(log: CureLog, plan: CurePlan) -> Iterator[Finding]:
    """Stretches without readings longer than the plan allows."""
    for before, after in log.silences(plan.gap_min):
        minutes = log.time_min[after] - log.time_min[before]
        yield _found(
            log, FindingKind.GAP, _("no readings for {minutes:.0f} min", minutes=minutes), before, after
        )


def spikes(log: CureLog, plan: CurePlan) -> Iterator[Finding]:
    """Short readings that stand out from their neighbours, or that no pad can have."""
    for name, pad in ((_("inside"), log.inside_c), (_("outside"), log.outside_c)):
        runs, count = label(spiked(pad))
        for number in range(1, min(count, SHOWN) + 1):
            places = np.flatnonzero(runs == number)
            top = pad[places][np.abs(pad[places] - _calm(pad)[places]).argmax()]
            yield _found(
                log,
                FindingKind.SPIKE,
                _("{name:phrase} pad spikes to {top:.0f °C}", name=name, top=top),
                places[0],
                places[-1],
            )


def spiked(pad_c: FloatArray) -> NDArray[np.bool_]:
    """Which readings of a pad are spikes."""
    return np.asarray(np.isfinite(pad_c) & (np.abs(pad_c - _calm(pad_c)) > SPIKE_C))


def calm_pads(log: CureLog) -> tuple[FloatArray, FloatArray]:
    """Both pads with spikes and missing readings left out as not a number [°C]."""
    inside, outside = (np.where(spiked(pad), np.nan, pad) for pad in (log.inside_c, log.outside_c))
    return inside, outside


def swaps(log: CureLog, plan: CurePlan) -> Iterator[Finding]:
    """Places where the pads' difference turns over from one reading to the next: sensors changed places.

    What both pads do together, such as heating up, does not show in their difference; what they may drift
    apart between readings far apart does not count.
    """
    apart = log.inside_c - log.outside_c
    change = np.abs(np.diff(apart))
    noise = SWAP_NOISE * float(np.nanmedian(change)) if np.isfinite(change).any() else 0.0
    least = np.maximum(max(SWAP_C, noise), DRIFT_C_MIN * np.diff(log.time_min))
    turned = np.abs(apart[:-1] + apart[1:]) < change / 4
    for place in _places((np.abs(apart[:-1]) > least) & turned):
        text = _("inside and outside change places from one reading to the next: swapped sensors?")
        yield _found(log, FindingKind.SWAPPED_SENSORS, text, place, place + 1)


def swapped_throughout(log: CureLog, plan: CurePlan) -> Iterator[Finding]:
    """A whole log whose pads hold what the plan says of the other one."""
    inside, outside = hold_level_c(log.inside_c), hold_level_c(log.outside_c)
    planned = (plan.inside_hold_c, plan.outside_hold_c)
    told = abs(inside - planned[0]) + abs(outside - planned[1])
    swapped = abs(inside - planned[1]) + abs(outside - planned[0])
    if abs(planned[0] - planned[1]) > HOLD_APART_C and swapped + HOLD_APART_C < told:
        text = _(
            "inside holds {inside:.0f °C} and outside {outside:.0f °C}, the plan says "
            "{inside_hold_c:.0f °C} and {outside_hold_c:.0f °C}: swapped sensors?",
            inside=inside,
            outside=outside,
            inside_hold_c=planned[0],
            outside_hold_c=planned[1],
        )
        yield _found(log, FindingKind.SWAPPED_SENSORS, text, 0, len(log.time_min) - 1)


def wrong_units(log: CureLog, plan: CurePlan) -> Iterator[Finding]:
    """Pads or bags that would agree with the plan if their unit were another one."""
    yield from wrong_pad_units(log, plan)
    yield from _wrong_pressure_unit(log, plan)


def wrong_pad_units(log: CureLog, plan: CurePlan) -> Iterator[Finding]:
    """Pads that would agree with the plan if they were in °F or °C."""
    for name, pad, hold in (
        (_("inside"), log.inside_c, plan.inside_hold_c),
        (_("outside"), log.outside_c, plan.outside_hold_c),
    ):
        level = hold_level_c(pad)
        for unit, told, meant in (("°F", "°C", (level - 32) / 1.8), ("°C", "°F", level * 1.8 + 32)):
            if abs(level - hold) > UNIT_C and abs(meant - hold) < NEAR_C:
                text = _(
                    "{name:phrase} pad holds {level:.0f} °C as read: {unit} labelled {told}? "
                    "Then {meant:.0f} °C",
                    name=name,
                    level=level,
                    unit=unit,
                    told=told,
                    meant=meant,
                )
                yield _found(log, FindingKind.WRONG_UNIT, text, 0, len(log.time_min) - 1)


def hold_level_c(pad_c: FloatArray) -> float:
    """Where a pad settles: nine in ten of its readings lie below [°C]."""
    finite = pad_c[np.isfinite(pad_c)]
    return float(np.quantile(finite, 0.9)) if len(finite) else float("nan")


def _wrong_pressure_unit(log: CureLog, plan: CurePlan) -> Iterator[Finding]:
    if not len(log.pressure_kpa) or not plan.pressure_kpa:
        return
    level = hold_level_c(log.pressure_kpa)
    for (unit, told), factor in MISLABELLED.items():
        if abs(level * factor / plan.pressure_kpa - 1) < 0.15:
            text = _(
                "bags hold {level:.1f} kPa as read: {unit} labelled {told}? It would be {truly:.0f} kPa",
                level=level,
                unit=unit,
                told=told,
                truly=level * factor,
            )
            yield _found(log, FindingKind.WRONG_UNIT, text, 0, len(log.time_min) - 1)


def _calm(pad_c: FloatArray) -> FloatArray:
    """The middle one of each reading and its neighbours [°C]."""
    finite = np.isfinite(pad_c)
    if not finite.any():
        return pad_c
    places = np.arange(len(pad_c))
    whole = np.interp(places, places[finite], pad_c[finite])
    return np.asarray(median_filter(whole, size=SPIKE_WINDOW, mode="nearest"), dtype=np.float64)


def _places(odd: NDArray[np.bool_]) -> list[int]:
    return [int(place) for place in np.flatnonzero(odd)]


def _found(log: CureLog, kind: FindingKind, text: Sentence, first: int, last: int) -> Finding:
    return Finding(
        kind=kind, message=text, from_min=float(log.time_min[first]), to_min=float(log.time_min[last])
    )
