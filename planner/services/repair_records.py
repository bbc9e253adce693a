"""Signing a repair's record. Nothing in a signed record changes: a correction adds a version."""

from django.db import transaction
from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import RecordVersion, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.repair_records.content import content_sha256, record_content
from planner.selectors.repair_records.reading import record_lacks
from planner.services.rows import row_add


def record_sign(*, user: User, work_order: WorkOrder) -> RecordVersion:
    """Freeze the record as it stands now as its first version.

    Raises ConflictError where it is signed already; InvalidValueError where a cure waits for a decision, a
    stage goes on or nobody inspected the repair.
    """
    require_on_site(user=user, site=work_order.site, action=Action.WORK_ORDER_DECIDE)
    with transaction.atomic():
        order = _locked(work_order)
        if order.record_versions.exists():
            raise ConflictError(
                _("the record of {order} is signed already: correct it with a reason", order=order)
            )
        return _version_add(user, order, 1, "")


def record_correct(*, user: User, work_order: WorkOrder, reason: str) -> RecordVersion:
    """Sign what is on file now as the next version; the ones before stay as they were.

    Raises InvalidValueError without a reason or where nothing changed since the last signature.
    """
    require_on_site(user=user, site=work_order.site, action=Action.WORK_ORDER_DECIDE)
    if not reason.strip():
        raise InvalidValueError(_("a correction needs its reason"))
    with transaction.atomic():
        order = _locked(work_order)
        last = order.record_versions.order_by("number").last()
        if last is None:
            raise InvalidValueError(
                _("the record of {order} is not signed yet: there is nothing to correct", order=order)
            )
        return _version_add(user, order, last.number + 1, reason.strip(), last)


def _version_add(
    user: User, order: WorkOrder, number: int, reason: str, last: RecordVersion | None = None
) -> RecordVersion:
    content = record_content(order=order)
    if lacks := record_lacks(content):
        raise InvalidValueError(_("the record cannot be signed: {lacks:list}", lacks=lacks))
    digest = content_sha256(content)
    if last is not None and last.content_sha256 == digest:
        raise InvalidValueError(
            _("nothing on file changed since the last signature: there is nothing to correct")
        )
    version = RecordVersion(
        site=order.site,
        work_order=order,
        number=number,
        content=content,
        content_sha256=digest,
        reason=reason,
        signed_at=timezone.now(),
        signed_by=user,
    )
    row_add(user=user, site=order.site, row=version, action="record_sign", why=reason)
    return version


def _locked(work_order: WorkOrder) -> WorkOrder:
    """The order, so that two people never sign the same number."""
    rows = WorkOrder.objects.select_for_update(of=("self",)).select_related("site", "tyre", "machine")
    return rows.get(pk=work_order.pk)
