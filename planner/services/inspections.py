"""The inspection of a finished repair. The tool certifies nothing: a person releases or rejects."""

from django.utils import timezone

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Inspection, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.services.rows import row_add


def inspection_record(*, user: User, work_order: WorkOrder, released: bool, found: str) -> Inspection:
    """Record what a person found and decided; a later inspection stands beside it, nothing changes.

    Raises InvalidValueError where it does not say what was found.
    """
    require_on_site(user=user, site=work_order.site, action=Action.WORK_ORDER_DECIDE)
    if not found.strip():
        raise InvalidValueError(_("say what was looked at and how it was"))
    inspection = Inspection(
        site=work_order.site,
        work_order=work_order,
        released=released,
        found=found.strip(),
        inspected_at=timezone.now(),
        inspected_by=user,
    )
    row_add(user=user, site=work_order.site, row=inspection, action="inspection_record", why=found)
    return inspection
