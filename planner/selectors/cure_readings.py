"""Reading what was typed from the gauges at a cure."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import CureReading, Damage, Site, User, WorkOrder
from planner.selectors.access import require_on_site


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingHistory:
    """A time at which the gauges were read: what holds, and the slips before it, first to last.

    `holds` is None where the reading was withdrawn.
    """

    holds: CureReading | None
    slips: Sequence[CureReading]


def cure_reading_list(*, user: User, damage: Damage) -> list[CureReading]:
    """The readings of an injury's cure that hold, in order of time: two queries with the access check."""
    require_on_site(user=user, site=damage.site, action=Action.SITE_READ)
    rows = _rows().filter(damage=damage, corrected_by__isnull=True).exclude(as_typed="")
    return list(rows.order_by("taken_at", "pk"))


def reading_history_list(*, user: User, order: WorkOrder) -> dict[int, list[ReadingHistory]]:
    """The readings of an order's injuries by injury, with their slips: one query beside the access check."""
    require_on_site(user=user, site=order.site, action=Action.SITE_READ)
    return reading_histories(order=order)


def reading_histories(*, order: WorkOrder) -> dict[int, list[ReadingHistory]]:
    """The same for whoever was let in already."""
    rows = list(_rows().filter(damage__work_order=order).order_by("taken_at", "pk"))
    by_key = {row.pk: row for row in rows}
    corrected = {row.corrects_id for row in rows}
    found: dict[int, list[ReadingHistory]] = {}
    for last in (row for row in rows if row.pk not in corrected):
        slips: list[CureReading] = []
        before = last.corrects_id
        while before is not None:
            slips.insert(0, by_key[before])
            before = by_key[before].corrects_id
        history = ReadingHistory(holds=last if last.as_typed else None, slips=(*slips, *_withdrawal(last)))
        found.setdefault(last.damage_id, []).append(history)
    return found


def cure_reading_get(*, user: User, site: Site, reading_id: int) -> CureReading:
    """One reading of the site; NotFoundError where there is none."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    reading = CureReading.objects.select_related("damage__site").filter(site=site, pk=reading_id).first()
    if reading is None:
        raise NotFoundError(_("there is no reading {reading_id} on {site}", reading_id=reading_id, site=site))
    return reading


def _rows() -> QuerySet[CureReading]:
    return CureReading.objects.select_related("recorded_by", "stage_run", "damage__site")


def _withdrawal(last: CureReading) -> Sequence[CureReading]:
    return () if last.as_typed else (last,)
