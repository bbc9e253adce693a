"""Stage minutes of many cures at once: the chart's, with the model's verdict beside it."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from types import MappingProxyType

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import Sentence, kept, recalled, sentence_of
from planner.engineering.cure.cure_chart import ChartReading, OffChartError, chart_check
from planner.engineering.cure.estimate import CureEstimate, cure_estimates, cure_outcomes
from planner.models import Damage, Site
from planner.selectors.cure_inputs import CureInput, cure_tables_get
from planner.selectors.cure_memory import Figures, remembered

EDITION = "cure 3"
"""Counts up when the model changes, so that nothing from before is remembered."""

DOUBTFUL = ("short", "reversion")


@dataclass(frozen=True, slots=True, kw_only=True)
class CureFigures:
    """What a plan needs of one cure [min]; `timed_min` is the chart's, None off its lines.

    Energy is the model's until the pads go off [kWh]: into the rubber, into the pads, lost to the bay.
    """

    heat_up_min: int
    timed_min: int | None
    cool_down_min: int
    model_min: int
    verdict: str
    message: Sentence
    reading: Sentence
    rubber_kwh: float = 0.0
    pads_kwh: float = 0.0
    losses_kwh: float = 0.0

    @property
    def energy_kwh(self) -> float:
        """All together [kWh]; nothing where the model lacks a figure."""
        return self.rubber_kwh + self.pads_kwh + self.losses_kwh

    @property
    def doubtful(self) -> bool:
        """Whether a person should ask the maker before the cure."""
        return self.timed_min is None or self.verdict in DOUBTFUL


def cure_figures_by_damage(
    *, site: Site, damages: Sequence[Damage], sets: Mapping[int, int] = MappingProxyType({})
) -> dict[int, CureFigures]:
    """Figures by injury; those without a chart line of their material and set kind are not in it.

    `sets` names the heater set by injury where it is known. Elsewhere each stage is as long as on the
    slowest set that fits the zone, so that the plan holds on any. Where a material lacks a figure that the
    model needs, there are no minutes and the message says which.
    """
    tables = cure_tables_get(site=site)
    known: dict[int, list[CureInput]] = {}
    found: dict[int, CureFigures] = {}
    for damage in damages:
        try:
            known[damage.pk] = tables.inputs_for(damage, sets.get(damage.pk))
        except InvalidValueError as fault:
            found[damage.pk] = _unknown(sentence_of(fault))
    figures = iter(cure_figures_get(inputs=[each for inputs in known.values() for each in inputs]))
    longest = {pk: _longest([next(figures) for _ in inputs]) for pk, inputs in known.items() if inputs}
    return found | longest


def cure_figures_get(*, inputs: Sequence[CureInput]) -> list[CureFigures]:
    """Figures for each input, in their order."""
    return [
        CureFigures(**{**each, **{name: recalled(each[name]) for name in _TOLD}})
        for each in remembered(EDITION, inputs, _worked_out)
    ]


_TOLD = ("message", "reading")


def _unknown(why: Sentence) -> CureFigures:
    return CureFigures(
        heat_up_min=0,
        timed_min=None,
        cool_down_min=0,
        model_min=0,
        verdict="",
        message=why,
        reading=Sentence(""),
    )


def _longest(figures: Sequence[CureFigures]) -> CureFigures:
    """The longest of each stage, with the verdict that a person should see first."""
    worst = max(figures, key=lambda each: (each.doubtful, each.model_min))
    return CureFigures(
        heat_up_min=max(each.heat_up_min for each in figures),
        timed_min=worst.timed_min,
        cool_down_min=max(each.cool_down_min for each in figures),
        model_min=worst.model_min,
        verdict=worst.verdict,
        message=worst.message,
        reading=worst.reading,
        rubber_kwh=worst.rubber_kwh,
        pads_kwh=worst.pads_kwh,
        losses_kwh=worst.losses_kwh,
    )


def _worked_out(inputs: Sequence[CureInput]) -> list[Figures]:
    needed = cure_estimates([told.case for told in inputs])
    readings = [chart_reading(told) for told in inputs]
    charted = [place for place, reading in enumerate(readings) if isinstance(reading, ChartReading)]
    minutes = [float(readings[place].timed_min) for place in charted]  # type: ignore[union-attr]
    outcomes = cure_outcomes([inputs[place].case for place in charted], timed_min=minutes)
    cured = dict(zip(charted, outcomes, strict=True))
    figures = (
        _figures(told, needed[place], readings[place], cured.get(place)) for place, told in enumerate(inputs)
    )
    return [
        {**asdict(each), "message": kept(each.message), "reading": kept(each.reading)} for each in figures
    ]


def chart_reading(told: CureInput) -> ChartReading | OffChartError:
    """What the chart gives, or its refusal."""
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
        timed, verdict, message, cooled = (
            None,
            "",
            sentence_of(reading) if isinstance(reading, OffChartError) else reading.words,
            needed,
        )
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
        reading=Sentence("") if isinstance(reading, OffChartError) else reading.words,
        rubber_kwh=cooled.energy.rubber_kwh,
        pads_kwh=cooled.energy.pads_kwh,
        losses_kwh=cooled.energy.losses_kwh,
    )
