"""How often a tyre of each size comes off: by the site's own records where enough, else as assumed."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.db.models import Count, F, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from planner.domain.fleet import ASKS_FOR_A_SPARE
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import RemovalAssumption, Site, TyreFitting, User
from planner.selectors.access import require_on_site

ENOUGH_REMOVALS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalRate:
    """Mean running hours until a tyre comes off for damage or wear [h]; None where nobody knows."""

    hours: float | None
    is_measured: bool
    source: str
    removals: int = 0


def removal_assumption_list(*, user: User, site: Site) -> QuerySet[RemovalAssumption]:
    """What the site assumes, by size."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return RemovalAssumption.objects.select_related("site").filter(site=site)


def removal_rates_get(*, site: Site) -> Mapping[str, RemovalRate]:
    """The rate of every size with records or an assumption; `removal_rate_of` answers for the others too."""
    found = {row.size: _assumed(row) for row in RemovalAssumption.objects.filter(site=site)}
    run = Coalesce(F("removed_hours"), F("machine__hours_run")) - F("fitted_hours")
    off = Count("pk", filter=Q(reason__in=[each.value for each in ASKS_FOR_A_SPARE]))
    rows = TyreFitting.objects.filter(site=site).order_by().values("tyre__size")
    for row in rows.annotate(run=Sum(run), off=off):
        if row["off"] >= ENOUGH_REMOVALS and row["run"] > 0:
            found[row["tyre__size"]] = _measured(row["run"], row["off"])
    return found


def removal_rate_of(rates: Mapping[str, RemovalRate], size: str) -> RemovalRate:
    """The size's rate, or that there is none."""
    source = _(
        "fewer than {enough_removals} removals on record, and nothing assumed",
        enough_removals=ENOUGH_REMOVALS,
    )
    return rates.get(size) or RemovalRate(hours=None, is_measured=False, source=source)


def _measured(run: int, off: int) -> RemovalRate:
    source = _("own records: {off} came off in {run} hours on machines", off=off, run=run)
    return RemovalRate(hours=run / off, is_measured=True, source=source, removals=off)


def _assumed(row: RemovalAssumption) -> RemovalRate:
    return RemovalRate(hours=float(row.hours), is_measured=False, source=f"assumed: {row.reason}")
