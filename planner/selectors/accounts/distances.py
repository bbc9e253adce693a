"""The ways open for one tyre by distance, where the site's records hold it beside hours."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.costing.assumptions import Assumed
from planner.costing.comparison import Comparison, cost_a_length
from planner.costing.options import OptionKind
from planner.domain.money import Money
from planner.engineering.life_bound import LifeBounds
from planner.engineering.life_estimate import LifeEstimate, life_estimate
from planner.engineering.life_records import LEAST_FAILURES, LifeMeasure, LifeRecord
from planner.selectors.accounts.lives import prior_of
from planner.selectors.accounts.ways import WeakestInjury


@dataclass(frozen=True, slots=True, kw_only=True)
class WayDistance:
    """How far one way runs, and what a kilometre of it costs."""

    kind: OptionKind
    km: Decimal
    per_km: Money

    @property
    def per_1000_km(self) -> Money:
        """What a thousand kilometres cost: one of them is often less than a cent."""
        return self.per_km * 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Distances:
    """The site's mean speed [km/h], the life after repair in km, and each way by distance."""

    speed: Decimal
    life: LifeEstimate
    ways: tuple[WayDistance, ...]


def mean_speed(records: Sequence[LifeRecord]) -> float | None:
    """All kilometres over all hours of the records that hold both; None where too few do [km/h]."""
    both = [(record.km, record.hours) for record in records if record.km is not None]
    if len(both) < LEAST_FAILURES:
        return None
    return sum(km for km, _ in both) / sum(hours for _, hours in both)


def distances_of(
    comparison: Comparison,
    records: Sequence[LifeRecord],
    weakest: WeakestInjury,
    assumed: Assumed,
    bounds: LifeBounds,
) -> Distances | None:
    """The repair from its own records of distance, the other ways from their hours at the mean speed.

    None where the site does not record distance.
    """
    speed = mean_speed(records)
    if speed is None:
        return None
    life = life_estimate(
        records, zone=weakest.zone, size_class=weakest.size_class, measure=LifeMeasure.DISTANCE,
        prior=prior_of(assumed, times=speed),
    )  # fmt: skip
    exact = Decimal(str(round(speed, 3)))
    repaired = Decimal(str(round(life.life.mean_within(bounds.hours * speed))))
    ways = (
        _way(comparison, kind, max(repaired, Decimal(1)) if kind is OptionKind.REPAIR else None, exact)
        for kind in (cost.option.kind for cost in comparison.costs())
    )
    return Distances(speed=exact, life=life, ways=tuple(ways))


def _way(comparison: Comparison, kind: OptionKind, km: Decimal | None, speed: Decimal) -> WayDistance:
    option, terms = comparison.option(kind), comparison.terms
    length = option.hours * speed if km is None else km
    per_km = cost_a_length(option, terms, length, terms.hours_a_year * speed)
    return WayDistance(kind=kind, km=length, per_km=per_km)
