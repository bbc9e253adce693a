"""Telling supervisors of what can't wait: a hot tyre that nobody attends, a problem from the floor."""

from collections.abc import Iterable
from datetime import datetime

from django.utils.translation import gettext as _

from planner.domain.notices import NoticeKind
from planner.domain.permissions import Role
from planner.models import AuditEvent, Damage, Site, TyreAlarm, User
from planner.selectors.attendance import AttendedTyre
from planner.selectors.telling import in_words
from planner.services.notices import notice_add


def unattended_tell(*, site: Site, alarm: TyreAlarm, tyre: AttendedTyre) -> None:
    """Tell the site's supervisors that an alarm has begun."""
    hot = tyre.hot
    named = {"order": hot.work_order, "set": hot.heater_set, "stage": hot.stage}
    for user in _supervisors(site):
        notice_add(
            user=user,
            site=site,
            kind=NoticeKind.ALARM,
            key=f"alarm:{alarm.pk}",
            title=_("UNATTENDED: %(order)s on %(set)s, %(stage)s") % named,
            words=in_words(tyre.alarm),
        )


def problem_tell(*, site: Site, damage: Damage, stage: str, words: str, at: datetime) -> None:
    """Tell the site's supervisors what the crew told from the floor."""
    order = damage.work_order
    name = order.code if order else damage.tyre.serial
    for user in _supervisors(site):
        notice_add(
            user=user,
            site=site,
            kind=NoticeKind.PROBLEM,
            key=f"problem:{damage.pk}:{at.isoformat()}",
            title=_("Problem at %(stage)s of %(order)s") % {"stage": stage, "order": name},
            words=words,
            work_order=order,
        )


def plan_broken_tell(*, site: Site, event: AuditEvent) -> None:
    """Tell the site's supervisors of a change that the published plan does not survive."""
    for user in _supervisors(site):
        notice_add(
            user=user,
            site=site,
            kind=NoticeKind.PROBLEM,
            key=f"plan_broken:{event.pk}",
            title=event.what,
            words=event.why,
        )


def _supervisors(site: Site) -> Iterable[User]:
    return User.objects.filter(is_active=True, memberships__site=site, memberships__role=Role.SUPERVISOR)
