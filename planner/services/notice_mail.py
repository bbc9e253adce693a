"""Sending a notice by e-mail."""

from datetime import timedelta

from celery import current_app
from django.core.cache import cache
from django.core.mail import send_mail
from django.db import transaction
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from planner.models import Notice, User
from planner.selectors.access import role_get
from planner.selectors.notices import wants_mail
from planner.selectors.preferences import reading_get
from planner.services.notices import MAIL_TASK

# Longer than the queue itself tries a mail server that does not answer.
_LOST_AFTER, _OLD_NEWS_AFTER = timedelta(minutes=45), timedelta(hours=12)
_AGAIN_EVERY = timedelta(hours=1)
_MOST_AT_ONCE = 500


def notice_mail(*, notice_id: int) -> bool:
    """Send it where its user wants mail and has an address; whether it went out now. Safe to run twice.

    The row stays locked until the mail server has it, so a second worker waits and then finds it sent.
    """
    with transaction.atomic():
        row = Notice.objects.select_for_update().filter(pk=notice_id, mailed_at__isnull=True).first()
        if row is None or not _may_be_mailed(row):
            return False
        with translation.override(reading_get(user=row.user, site=row.site).language):
            subject = " ".join(f"{row.site.name}: {row.title}".split())
            send_mail(subject, _body(row), None, [row.user.email])
        row.mailed_at = timezone.now()
        row.save(update_fields=["mailed_at"])
    return True


def notice_mails_resume() -> int:
    """Queue again the e-mails that never went out, as long as they are news; how many."""
    now = timezone.now()
    lately = (now - _OLD_NEWS_AFTER, now - _LOST_AFTER)
    waiting = Notice.objects.filter(mailed_at=None, made_at__range=lately).exclude(user__email="")
    rows = waiting.select_related("user", "site").order_by("made_at")[:_MOST_AT_ONCE]
    again = [
        row.pk for row in rows
        if _may_be_mailed(row) and cache.add(f"mail-again:{row.pk}", True, _AGAIN_EVERY.total_seconds())
    ]  # fmt: skip
    for pk in again:
        current_app.send_task(MAIL_TASK, args=[pk])
    return len(again)


def _may_be_mailed(row: Notice) -> bool:
    user: User = row.user
    is_member = role_get(user=user, site=row.site) is not None
    return bool(user.email) and is_member and wants_mail(user=user, site=row.site)


def _body(row: Notice) -> str:
    closing = _("You can turn these e-mails off in Tyrewright, under Notices.")
    return "\n\n".join(part for part in (row.title, row.words, closing) if part) + "\n"
