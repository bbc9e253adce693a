"""Writing audit events: each in the transaction of the change that it tells of, chained to the one before."""

import hashlib
import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.utils import timezone

from planner.models import AuditEvent, Site, User


def audit_event_add(
    *,
    site: Site,
    user: User | None,
    action: str,
    row: models.Model,
    what: str,
    why: str = "",
    details: Mapping[str, Any] | None = None,
) -> AuditEvent:
    """Add one event to the site's chain; call it inside the transaction of the change itself."""
    # The site's row is the lock of its chain: two writers never take the same place in it.
    Site.objects.select_for_update().get(pk=site.pk)
    last = AuditEvent.objects.filter(site=site).order_by("-sequence").first()
    event = AuditEvent(
        site=site,
        sequence=1 if last is None else last.sequence + 1,
        at=timezone.now(),
        user=user,
        action=action,
        noun=str(row._meta.model_name),
        noun_id=str(row.pk),
        what=what[:300],
        why=why[:300],
        details=json.loads(json.dumps(dict(details or {}), cls=DjangoJSONEncoder)),
        previous_hash="" if last is None else last.hash,
    )
    event.hash = audit_event_hash(event)
    event.save(force_insert=True)
    return event


def audit_event_hash(event: AuditEvent) -> str:
    """SHA-256 over the event's own words and the hash of the one before it."""
    words = [
        event.site_id,
        event.sequence,
        _instant(event.at),
        event.user_id,
        event.action,
        event.noun,
        event.noun_id,
        event.what,
        event.why,
        event.details,
        event.previous_hash,
    ]
    text = json.dumps(words, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def audit_chain_faults(*, site: Site) -> tuple[str, ...]:
    """Every break of the site's chain, in plain words; empty where the chain is whole."""
    faults, previous, place = [], "", 0
    for event in AuditEvent.objects.filter(site=site).order_by("sequence").iterator(chunk_size=1000):
        place += 1
        if event.sequence != place:
            faults.append(f"event {place} is missing")
            place = event.sequence
        if event.previous_hash != previous:
            faults.append(f"event {event.sequence} does not follow the one before it")
        if event.hash != audit_event_hash(event):
            faults.append(f"event {event.sequence} was changed after it was written")
        previous = event.hash
    return tuple(faults)


def _instant(at: datetime) -> str:
    # Databases give the same instant back in their own zone.
    return at.astimezone(UTC).isoformat()
