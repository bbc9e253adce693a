"""Writing what the site assumes of a size's removals."""

from django.db import transaction
from django.db.models import QuerySet

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.size_reading import size_read
from planner.models import RemovalAssumption, Site, User
from planner.selectors.access import require_on_site
from planner.services.rows import row_add, row_change

_SET = "removal_assumption_set"


def removal_assumption_set(
    *, user: User, site: Site, size_as_written: str, hours: int, reason: str
) -> RemovalAssumption:
    """State the mean running hours until a tyre of the size comes off [h], and where the figure is from."""
    require_on_site(user=user, site=site, action=Action.SPARES_CHANGE)
    with transaction.atomic():
        row = _of_size(site, size_as_written).select_for_update().first()
        if row is None:
            return removal_assumption_add(
                user=user, site=site, size_as_written=size_as_written, hours=hours, reason=reason
            )
        removal_assumption_change(user=user, assumption=row, hours=hours, reason=reason)
    return row


def removal_assumption_add(
    *, user: User, site: Site, size_as_written: str, hours: int, reason: str
) -> RemovalAssumption:
    """State them for a size of which nothing is assumed so far; ConflictError else."""
    require_on_site(user=user, site=site, action=Action.SPARES_CHANGE)
    _refuse_unreasoned(reason)
    known = _of_size(site, size_as_written).first()
    if known is not None:
        raise ConflictError(_("{known} is assumed already: change that", known=known))
    size = str(size_read(size_as_written).size)
    row = RemovalAssumption(site=site, size=size, hours=hours, reason=reason)
    row_add(user=user, site=site, row=row, action=_SET, why=reason)
    return row


def removal_assumption_change(*, user: User, assumption: RemovalAssumption, hours: int, reason: str) -> None:
    """State them anew; ChangedMeanwhileError where the row was changed since it was read."""
    site = assumption.site
    require_on_site(user=user, site=site, action=Action.SPARES_CHANGE)
    _refuse_unreasoned(reason)
    values = {"hours": hours, "reason": reason}
    row_change(user=user, site=site, row=assumption, values=values, action=_SET, why=reason)


def _of_size(site: Site, size_as_written: str) -> QuerySet[RemovalAssumption]:
    return RemovalAssumption.objects.filter(site=site, size=str(size_read(size_as_written).size))


def _refuse_unreasoned(reason: str) -> None:
    if not reason.strip():
        raise InvalidValueError(_("say where the figure is from: everybody sees it beside the odds"))
