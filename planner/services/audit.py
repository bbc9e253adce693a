"""Writing audit events: each in the transaction of the change that it tells of, chained to the one before."""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import UTC, datetime
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.utils import timezone

from planner.models import AuditEvent, Site, User

_later: ContextVar[list[AuditEvent] | None] = ContextVar("later", default=None)
"""The events of a long change that is not over."""


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
    event = AuditEvent(
        site=site,
        user=user,
        action=action,
        noun=str(row._meta.model_name),
        noun_id=str(row.pk),
        what=what[:300],
        why=why[:300],
        details=json.loads(json.dumps(dict(details or {}), cls=DjangoJSONEncoder)),
    )
    later = _later.get()
    if later is None:
        _chain(site, [event])
    else:
        later.append(event)
    return event


@contextmanager
def audit_later(*, site: Site, kept: bool = True) -> Iterator[None]:
    """Chain the events of a long change all at once behind it; not at all where it is not `kept`.

    Leave it inside the change's transaction: until then others may change the site, from then on they wait.
    """
    events: list[AuditEvent] = []
    token = _later.set(events)
    try:
        yield
    finally:
        _later.reset(token)
    if kept:
        _chain(site, events)


def _chain(site: Site, events: Sequence[AuditEvent]) -> None:
    # The site's row is the lock of its chain: two writers never take the same place in it.
    Site.objects.select_for_update().get(pk=site.pk)
    last = AuditEvent.objects.filter(site=site).order_by("-sequence").first()
    place, before = (0, "") if last is None else (last.sequence, last.hash)
    for event in events:
        place += 1
        event.sequence, event.at, event.previous_hash = place, timezone.now(), before
        event.hash = before = audit_event_hash(event)
    AuditEvent.objects.bulk_create(events, batch_size=1000)


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
