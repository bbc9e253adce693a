"""How far a cure's figures may be off: P50 and P90 over samples of what nobody knows exactly."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from types import MappingProxyType

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import Sentence, _
from planner.engineering.cure.bands import CureBands, Uncertainty, cure_bands
from planner.engineering.cure.cure_chart import ChartReading
from planner.models import Damage, Site
from planner.selectors.cure_figures import chart_reading
from planner.selectors.cure_inputs import CureInput, cure_tables_get
from planner.selectors.cure_memory import Figures, remembered

EDITION = "spread 1"
SPREAD = Uncertainty()


@dataclass(frozen=True, slots=True, kw_only=True)
class CureSpread:
    """P50 and P90 of a cure's figures [min], and in how many of 100 samples the plan's minutes are enough."""

    need_p50: int
    need_p90: int
    cool_down_p50: int
    cool_down_p90: int
    block_p50: int
    block_p90: int
    enough_of_100: int
    samples: int

    @property
    def words(self) -> Sentence:
        """What was sampled."""
        return _(
            "diffusivity ±{diffusivity:.0f} %, bay ±{ambient:g Δ°C}, contact ±{contact:.0f} %",
            diffusivity=100 * SPREAD.diffusivity_share,
            ambient=SPREAD.ambient_c,
            contact=100 * SPREAD.contact_share,
        )


def cure_spreads_by_damage(
    *, site: Site, damages: Sequence[Damage], sets: Mapping[int, int] = MappingProxyType({})
) -> dict[int, CureSpread]:
    """Spreads by injury, as `cure_figures_by_damage` has its figures; none where those are unknown.

    Where several sets may serve, it is the widest of each.
    """
    tables = cure_tables_get(site=site)
    known: dict[int, list[CureInput]] = {}
    for damage in damages:
        try:
            known[damage.pk] = tables.inputs_for(damage, sets.get(damage.pk))
        except InvalidValueError:
            continue
    inputs = [each for one in known.values() for each in one]
    found = iter([CureSpread(**each) for each in remembered(EDITION, inputs, _worked_out)])
    return {pk: _widest([next(found) for _ in each]) for pk, each in known.items() if each}


def _worked_out(inputs: Sequence[CureInput]) -> list[Figures]:
    return [asdict(_spread(cure_bands(each.case, planned_min=_planned(each)))) for each in inputs]


def _planned(told: CureInput) -> int | None:
    reading = chart_reading(told)
    return reading.timed_min if isinstance(reading, ChartReading) else None


def _spread(bands: CureBands) -> CureSpread:
    return CureSpread(
        need_p50=bands.timed.p50_min,
        need_p90=bands.timed.p90_min,
        cool_down_p50=bands.cool_down.p50_min,
        cool_down_p90=bands.cool_down.p90_min,
        block_p50=bands.block.p50_min,
        block_p90=bands.block.p90_min,
        enough_of_100=int(100 * bands.enough),
        samples=bands.samples,
    )


def _widest(spreads: Sequence[CureSpread]) -> CureSpread:
    most = {name: max(getattr(each, name) for each in spreads) for name in CureSpread.__slots__}
    return CureSpread(**{**most, "enough_of_100": min(each.enough_of_100 for each in spreads)})
