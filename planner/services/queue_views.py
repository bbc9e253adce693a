"""Keeping views of the queue."""

from collections.abc import Mapping

from django.db import transaction

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import QueueView, Site, User
from planner.selectors.access import require_on_site
from planner.services.rows import row_checked_save

NAMES = frozenset({"search", "state", "zone", "size", "sort"})
MOST_VIEWS = 20


def queue_view_keep(*, user: User, site: Site, name: str, wanted: Mapping[str, str]) -> QueueView:
    """Keep a view under a name; a view of the user's with that name is replaced."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    tidied = " ".join(name.split())
    if not tidied or set(wanted) - NAMES:
        raise InvalidValueError(_("give the view a name, and filter by what the queue's own fields hold"))
    with transaction.atomic():
        rows = QueueView.objects.select_for_update().filter(user=user, site=site)
        row = rows.filter(name=tidied).first()
        if row is None and rows.count() >= MOST_VIEWS:
            raise ConflictError(
                _("{most_views} views are kept already: remove one first", most_views=MOST_VIEWS)
            )
        row = row or QueueView(site=site, user=user, name=tidied)
        row.wanted = dict(wanted)
        row_checked_save(site=site, row=row)
    return row


def queue_view_remove(*, user: User, site: Site, view_id: int) -> None:
    """Remove one of the user's own; nothing where it is gone."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    QueueView.objects.filter(user=user, site=site, pk=view_id).delete()
