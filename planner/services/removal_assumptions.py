"""Writing what the site assumes of a size's removals."""

from django.db import transaction

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.domain.size_reading import size_read
from planner.models import RemovalAssumption, Site, User
from planner.selectors.access import require_on_site
from planner.services.rows import row_add, row_change


def removal_assumption_set(
    *, user: User, site: Site, size_as_written: str, hours: int, reason: str
) -> RemovalAssumption:
    """State the mean running hours until a tyre of the size comes off [h], and where the figure is from."""
    require_on_site(user=user, site=site, action=Action.SPARES_CHANGE)
    if not reason.strip():
        raise InvalidValueError("say where the figure is from: everybody sees it beside the odds")
    size = str(size_read(size_as_written).size)
    with transaction.atomic():
        row = RemovalAssumption.objects.select_for_update().filter(site=site, size=size).first()
        if row is None:
            row = RemovalAssumption(site=site, size=size, hours=hours, reason=reason)
            row_add(user=user, site=site, row=row, action="removal_assumption_set", why=reason)
        else:
            values = {"hours": hours, "reason": reason}
            row_change(
                user=user, site=site, row=row, values=values, action="removal_assumption_set", why=reason
            )
    return row
