"""Telling followers what a published plan promises otherwise than the one before it."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from celery import current_app
from django.core.cache import cache
from django.db import transaction
from django.utils import timezone, translation
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from planner.domain.durations import hours_minutes
from planner.domain.notices import NoticeKind
from planner.domain.sentences import Sentence
from planner.domain.states import PlanState
from planner.models import AuditEvent, Plan, User
from planner.selectors.late_reasons import late_reasons_get
from planner.selectors.plan_promises import not_entered_map_get, promise_map_get
from planner.selectors.preferences import reading_get
from planner.selectors.promise_changes import PromiseChange, followed_change_list
from planner.selectors.telling import in_words
from planner.services.notices import notice_add

TELL_TASK = "planner.tasks.tell_promises"
_NUMBERED = (PlanState.PUBLISHED, PlanState.SUPERSEDED)
_LOST_AFTER, _FORGOTTEN_AFTER = timedelta(minutes=3), timedelta(hours=1)


def promise_notices_ask(*, plan: Plan) -> None:
    """Have a worker tell the followers once the publication is committed."""
    transaction.on_commit(lambda: current_app.send_task(TELL_TASK, args=[plan.pk]), robust=True)


def promise_notices_resume() -> int:
    """Tell once more of each plan of the last hour, for its message may be lost with the queue; how many.

    Nobody hears of anything twice, since a notice is one row for one user and one event.
    """
    now = timezone.now()
    lately = (now - _FORGOTTEN_AFTER, now - _LOST_AFTER)
    plans = Plan.objects.filter(state=PlanState.PUBLISHED, published_at__range=lately)
    again = [
        pk for pk in plans.values_list("pk", flat=True)
        if cache.add(f"tell-again:{pk}", True, 2 * _FORGOTTEN_AFTER.total_seconds())
    ]  # fmt: skip
    for pk in again:
        current_app.send_task(TELL_TASK, args=[pk])
    return len(again)


def promise_notices_tell(*, plan_id: int) -> int:
    """Tell each follower of each changed promise once, by both times and why; safe to run twice.

    Returns how many notices are new.
    """
    plan = Plan.objects.filter(pk=plan_id, state__in=_NUMBERED).select_related("site", "published_by").first()
    if plan is None or plan.number is None:
        return 0
    earlier = Plan.objects.filter(site=plan.site, state__in=_NUMBERED, number__lt=plan.number)
    before = promise_map_get(plan=earlier.order_by("-number").first())
    changes = followed_change_list(site=plan.site, before=before, after=promise_map_get(plan=plan))
    reasons = _late_reasons(plan, changes)
    told = 0
    with transaction.atomic():
        for change in changes:
            for user in change.followers:
                told += _told(plan, change, user, reasons.get(change.order.code))
    return told


def _told(plan: Plan, change: PromiseChange, user: User, reason: Sentence | None) -> bool:
    reading = reading_get(user=user, site=plan.site)
    with translation.override(reading.language), timezone.override(ZoneInfo(plan.site.time_zone)):
        row = notice_add(
            user=user,
            site=plan.site,
            kind=NoticeKind.PROMISE,
            key=f"promise:{plan.pk}:{change.order.pk}",
            title=change_title(change),
            words=_why(plan, change, reason),
            work_order=change.order,
        )
    return row is not None


def change_title(change: PromiseChange) -> str:
    """The change in one line, on the clock and in the language that hold just now."""
    what = {"order": change.order.code, "tyre": change.order.tyre.serial}
    times = {"new": _time(change.now), "old": _time(change.before)}
    if change.now is None:
        words = _("%(order)s (%(tyre)s): no longer promised; it was promised for %(old)s")
    elif change.before is None:
        words = _("%(order)s (%(tyre)s): promised ready %(new)s")
    else:
        words = _("%(order)s (%(tyre)s): promised ready %(new)s instead of %(old)s")
    return words % {**what, **times}


def _time(at: datetime | None) -> str:
    return "" if at is None else date_format(timezone.localtime(at), "D j M H:i")


def _why(plan: Plan, change: PromiseChange, reason: Sentence | None) -> str:
    remark = AuditEvent.objects.filter(site=plan.site, action="plan_publish", noun_id=str(plan.pk)).first()
    publisher = plan.published_by
    who = (publisher.get_full_name() or publisher.get_username()) if publisher else ""
    by = {"number": plan.number, "who": who}
    parts = [_("Plan %(number)s, published by %(who)s.") % by]
    if remark is not None and remark.why:
        parts.append(_("Their remark: %(why)s.") % {"why": remark.why})
    if change.after is not None and change.after.minutes_late:
        late = hours_minutes(change.after.minutes_late)
        parts.append(_("That is %(time)s after it is needed.") % {"time": late})
    return " ".join([*parts, in_words(reason or "")]).strip()


def _late_reasons(plan: Plan, changes: list[PromiseChange]) -> dict[str, Sentence]:
    """What keeps a tyre out of the plan, or from being ready sooner, by order."""
    found = dict(not_entered_map_get(plan=plan))
    found |= {
        change.order.code: change.after.reasons[0].message
        for change in changes
        if change.after is not None and change.after.reasons
    }
    late = [change for change in changes if change.after is not None and change.after.minutes_late]
    known = late_reasons_get(plan=plan) if late else {}
    for change in late:
        reasons = known.get(change.order.code, ())
        if reasons:
            found[change.order.code] = reasons[0].message
    return found
