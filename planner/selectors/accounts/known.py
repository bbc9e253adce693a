"""What a site has on file that a row of its books may name."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from planner.models import CostRate, HeaterSet, Material, Site, SizeClass, Technician
from planner.models.cost_rate import EXCHANGE
from planner.selectors.accounts.bay import UNGRADED
from planner.selectors.accounts.books import last_closed, site_day


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """Codes by noun, units of materials, first days of exchange rates, and the last closed month."""

    currency: str
    today: date
    closed: date | None
    exchange_from: Mapping[str, date]
    materials: Mapping[str, str]
    heater_sets: frozenset[str]
    grades: frozenset[str]
    size_classes: frozenset[str]


def known_get(*, site: Site) -> Known:
    """Everything that rows are held against, read once for a whole file."""
    last = last_closed(site)
    exchange = CostRate.objects.filter(site=site, kind=EXCHANGE).order_by("-effective_from")
    return Known(
        currency=site.currency,
        today=site_day(site),
        closed=last.month if last else None,
        exchange_from=dict(exchange.values_list("name", "effective_from")),
        materials=dict(Material.objects.filter(site=site).values_list("code", "unit")),
        heater_sets=frozenset(HeaterSet.objects.filter(site=site).values_list("code", flat=True)),
        grades=frozenset(Technician.objects.filter(site=site).values_list("grade", flat=True)) | {UNGRADED},
        size_classes=frozenset(SizeClass.objects.filter(site=site).values_list("code", flat=True)),
    )
