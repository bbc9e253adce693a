"""The limits of the cures on the floor, read once for every card."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.cure_limits import CureLimits
from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.models import Damage, HeaterSet, Site, User
from planner.selectors.access import require_on_site
from planner.selectors.cure_inputs import CureTables, cure_tables_get


@dataclass(frozen=True, slots=True, kw_only=True)
class JobLimits:
    """What holds for any injury on any set of the site."""

    tables: CureTables
    sets: Mapping[str, int]

    def of(self, damage: Damage, heater_set: str | None) -> CureLimits | None:
        """What holds for an injury on a set by its code; None where its limits contradict each other."""
        try:
            return self.tables.limits_of(damage, self.sets.get(heater_set or ""))
        except InvalidValueError:
            return None


def job_limits_get(*, user: User, site: Site) -> JobLimits:
    """The site's limits with the materials and sets that they are of: the same queries for any number."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    sets = HeaterSet.objects.filter(site=site).values_list("code", "pk")
    return JobLimits(tables=cure_tables_get(site=site), sets=dict(sets))
