"""Stage minutes of many cures at once, remembered by their inputs so that a plan need not wait for them.

The one selector that writes: its memory holds what the inputs alone decide, belongs to no site, tells of
nobody, and may be emptied at any time.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import asdict, dataclass

from planner.domain.errors import InvalidValueError
from planner.engineering.cure.cure_chart import ChartReading, OffChartError, chart_check
from planner.engineering.cure.estimate import CureEstimate, cure_estimates, cure_outcomes
from planner.models import CureFigure, Damage, Site
from planner.selectors.cure_inputs import CureInput, cure_tables_get

EDITION = 1
"""Counts up when the model changes, so that nothing from before is remembered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CureFigures:
    """What a plan needs of one cure [min]; `timed_min` is the chart's, None off its lines."""

    heat_up_min: int
    timed_min: int | None
    cool_down_min: int
    model_min: int
    verdict: str
    message: str
    reading: str

    @property
    def doubtful(self) -> bool:
        """Whether a person should ask the maker before the cure."""
        return self.timed_min is None or self.verdict in ("short", "reversion")


def cure_figures_by_damage(*, site: Site, damages: Sequence[Damage]) -> dict[int, CureFigures]:
    """Figures by injury; those without a chart line of their material and set kind are not in it.

    Where a material lacks a figure that the model needs, there are no minutes and the message says which.
    """
    tables = cure_tables_get(site=site)
    if not tables.zones:
        return {}
    known: dict[int, CureInput] = {}
    found: dict[int, CureFigures] = {}
    for damage in damages:
        try:
            told = tables.input_for(damage)
        except InvalidValueError as fault:
            found[damage.pk] = _unknown(str(fault))
        else:
            known |= {} if told is None else {damage.pk: told}
    return found | dict(zip(known, cure_figures_get(inputs=list(known.values())), strict=True))


def _unknown(why: str) -> CureFigures:
    return CureFigures(
        heat_up_min=0, timed_min=None, cool_down_min=0, model_min=0, verdict="", message=why, reading=""
    )


def cure_figures_get(*, inputs: Sequence[CureInput]) -> list[CureFigures]:
    """Figures for each input, in their order: from memory, else worked out side by side and remembered."""
    keys = [_key(each) for each in inputs]
    rows = CureFigure.objects.filter(inputs_sha256__in=set(keys))
    found = {row.inputs_sha256: CureFigures(**row.figures) for row in rows}
    fresh = {key: told for key, told in zip(keys, inputs, strict=True) if key not in found}
    if fresh:
        worked_out = dict(zip(fresh, _worked_out(list(fresh.values())), strict=True))
        found |= worked_out
        CureFigure.objects.bulk_create(
            [CureFigure(inputs_sha256=key, figures=asdict(told)) for key, told in worked_out.items()],
            ignore_conflicts=True,
        )
    return [found[key] for key in keys]


def _key(told: CureInput) -> str:
    return hashlib.sha256(f"{EDITION} {told!r}".encode()).hexdigest()


def _worked_out(inputs: Sequence[CureInput]) -> list[CureFigures]:
    needed = cure_estimates([told.case for told in inputs])
    readings = [_read(told) for told in inputs]
    charted = [place for place, reading in enumerate(readings) if isinstance(reading, ChartReading)]
    minutes = [float(readings[place].timed_min) for place in charted]  # type: ignore[union-attr]
    outcomes = cure_outcomes([inputs[place].case for place in charted], timed_min=minutes)
    cured = dict(zip(charted, outcomes, strict=True))
    return [
        _figures(told, needed[place], readings[place], cured.get(place)) for place, told in enumerate(inputs)
    ]


def _read(told: CureInput) -> ChartReading | OffChartError:
    try:
        return told.chart.read(told.thickness_mm)
    except OffChartError as refusal:
        return refusal


def _figures(
    told: CureInput,
    needed: CureEstimate,
    reading: ChartReading | OffChartError,
    cured: CureEstimate | None,
) -> CureFigures:
    if isinstance(reading, OffChartError) or cured is None:
        timed, verdict, message, cooled = None, "", f"{reading}", needed
    else:
        thickness_m = told.case.slab.thickness_m
        check = chart_check(reading, needed=needed, charted=cured, thickness_m=thickness_m)
        timed, verdict, message, cooled = check.planned_min, check.verdict.value, check.message, cured
    return CureFigures(
        heat_up_min=needed.heat_up_min,
        timed_min=timed,
        cool_down_min=cooled.cool_down_min,
        model_min=needed.timed_min,
        verdict=verdict,
        message=message,
        reading="" if timed is None else str(reading),
    )
