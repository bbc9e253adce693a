"""Watching for hot tyres that nobody attends, by the clock, whether or not a page is open."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from planner.domain.webhooks import WebhookEvent
from planner.models import Site, TyreAlarm
from planner.selectors.attendance import AttendedTyre, attended_tyres_of
from planner.services.alarm_notices import unattended_tell
from planner.services.webhook_events import event_add


def tyre_alarms_watch(*, now: datetime | None = None, site: Site | None = None) -> int:
    """Begin and end the alarms of every site, or of one; how many began. Safe to run twice."""
    at = now or timezone.now()
    return sum(_site_watch(each, at) for each in ([site] if site else Site.objects.all()))


def _site_watch(site: Site, at: datetime) -> int:
    with transaction.atomic():
        Site.objects.select_for_update().get(pk=site.pk)
        unattended = {each.hot.damage: each for each in attended_tyres_of(site=site, now=at) if each.alarm}
        known = TyreAlarm.objects.filter(site=site, ended_at__isnull=True)
        known.exclude(damage__in=unattended).update(ended_at=at)
        new = [unattended[key] for key in unattended.keys() - set(known.values_list("damage", flat=True))]
        for each in new:
            _begin(site, each, at)
    return len(new)


def _begin(site: Site, tyre: AttendedTyre, at: datetime) -> None:
    row = TyreAlarm.objects.create(site=site, damage_id=tyre.hot.damage, began_at=at)
    data = {"alarm": row.pk, "damage": tyre.hot.damage, "work_order": tyre.hot.work_order}
    event_add(site=site, event=WebhookEvent.TYRE_UNATTENDED, data=lambda: data)
    unattended_tell(site=site, alarm=row, tyre=tyre)
