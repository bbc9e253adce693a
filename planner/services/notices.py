"""Writing notices: told once, read, and how somebody wants to be told."""

from celery import current_app
from django.db import transaction
from django.utils import timezone

from planner.domain.notices import NoticeKind
from planner.domain.permissions import Action
from planner.models import Notice, NoticeChoice, Site, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.notices import notice_get, notice_list

MAIL_TASK = "planner.tasks.mail_notice"


def notice_add(
    *,
    user: User,
    site: Site,
    kind: NoticeKind,
    key: str,
    title: str,
    words: str = "",
    work_order: WorkOrder | None = None,
) -> Notice | None:
    """Tell a user something once, and queue its e-mail on commit; None where they were told of it already."""
    row, is_new = Notice.objects.get_or_create(
        user=user,
        key=key[:120],
        defaults={
            "site": site, "kind": kind, "title": title[:200], "words": words[:600],
            "work_order": work_order, "made_at": timezone.now(),
        },
    )  # fmt: skip
    if not is_new:
        return None
    transaction.on_commit(lambda: current_app.send_task(MAIL_TASK, args=[row.pk]), robust=True)
    return row


def notice_read(*, user: User, site: Site, notice_id: int) -> Notice:
    """Note that the user read it; the first time counts."""
    row = notice_get(user=user, site=site, notice_id=notice_id)
    if row.read_at is None:
        row.read_at = timezone.now()
        row.save(update_fields=["read_at"])
    return row


def notices_read_all(*, user: User, site: Site) -> int:
    """Note that the user read all of theirs; returns how many were new to them."""
    return notice_list(user=user, site=site).filter(read_at__isnull=True).update(read_at=timezone.now())


def notice_choose(*, user: User, site: Site, by_mail: bool) -> None:
    """Keep whether notices of this site reach the user by e-mail too."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    NoticeChoice.objects.update_or_create(user=user, site=site, defaults={"by_mail": by_mail})
