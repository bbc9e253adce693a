"""How long repaired tyres of each zone and size class run, and whose records each rests on."""

from dataclasses import dataclass

from planner.domain.injury import Zone
from planner.domain.permissions import Action
from planner.engineering.life_estimate import LifeEstimate, life_estimate
from planner.engineering.life_records import LifeBasis, LifeMeasure
from planner.models import Site, SizeClass, User
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import assumed_get, site_day
from planner.selectors.accounts.distances import mean_speed
from planner.selectors.accounts.lives import NO_BOUND, life_records_get, prior_of


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeGroupRow:
    """One zone and size class: its own records and failures, and the life that is taken for it."""

    zone: str
    size_class: str
    records: int
    failures: int
    life: LifeEstimate
    mean: float

    @property
    def drawn_as(self) -> tuple[LifeBasis, str, str]:
        """What the drawing of its records is of: those that share them share the drawing."""
        basis = self.life.basis
        zone = self.zone if basis in {LifeBasis.ZONE_AND_SIZE, LifeBasis.ZONE} else ""
        size_class = self.size_class if basis in {LifeBasis.ZONE_AND_SIZE, LifeBasis.SIZE} else ""
        return basis, zone, size_class


def life_groups_get(*, user: User, site: Site, measure: LifeMeasure) -> list[LifeGroupRow]:
    """Every zone that has records with every size class; nothing where the measure is not recorded."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    records = life_records_get(site=site)
    speed = 1.0 if measure is LifeMeasure.HOURS else mean_speed(records)
    if speed is None:
        return []
    prior = prior_of(assumed_get(site=site, day=site_day(site)), times=speed)
    classes = list(SizeClass.objects.filter(site=site).values_list("code", flat=True))
    rows = []
    for zone in (zone for zone in Zone if any(record.zone == zone for record in records)):
        for code in classes or sorted({record.size_class for record in records}):
            own = [record for record in records if (record.zone, record.size_class) == (zone, code)]
            life = life_estimate(records, zone=zone, size_class=code, prior=prior, measure=measure)
            rows.append(
                LifeGroupRow(
                    zone=zone,
                    size_class=code,
                    records=len(own),
                    failures=sum(record.failed for record in own),
                    life=life,
                    mean=life.life.mean_within(NO_BOUND),
                )
            )
    return rows
