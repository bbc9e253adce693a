"""When each tyre is promised ready."""

from datetime import datetime

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from planner.domain.durations import hours_minutes
from planner.selectors.nouns import Plan, WorkOrder
from planner.selectors.plan_odds import ReadyOdds, order_odds_map_get
from planner.selectors.plan_promises import ReadyPromise, promise_map_get
from planner.selectors.work_orders import work_order_list
from planner.web.feeds.calendars import FeedEvent
from planner.web.here import Here


def ready_events(here: Here, plan: Plan) -> list[FeedEvent]:
    """One event for each open order that the plan promises, the first ready first."""
    promises, odds = promise_map_get(plan=plan), order_odds_map_get(plan=plan)
    events = []
    for order in work_order_list(user=here.user, site=here.site):
        promise = promises.get(order.code)
        if promise is not None and promise.ready_at is not None:
            events.append(_event(plan, order, promise, promise.ready_at, odds.get(order.code)))
    return sorted(events, key=lambda event: event.starts_at)


def _event(
    plan: Plan, order: WorkOrder, promise: ReadyPromise, ready_at: datetime, odds: ReadyOdds | None
) -> FeedEvent:
    named = {"order": order.code, "size": order.tyre.size, "serial": order.tyre.serial}
    title = _("%(order)s ready: %(size)s %(serial)s") % named
    return FeedEvent(
        about=f"ready/{order.number}",
        title=f"{title}, {order.machine.name}" if order.machine else title,
        words="\n".join(_words(plan, order, promise, odds)),
        starts_at=ready_at,
        plan=plan,
    )


def _words(plan: Plan, order: WorkOrder, promise: ReadyPromise, odds: ReadyOdds | None) -> list[str]:
    lines = [_("Needed by %(time)s.") % {"time": _time(order.needed_by)}]
    if promise.minutes_late:
        lines.append(_("That is %(time)s late.") % {"time": hours_minutes(promise.minutes_late)})
    if odds is not None and odds.p90 is not None:
        lines.append(_("Nine in ten by %(time)s.") % {"time": _time(odds.p90)})
    return [*lines, _("By plan %(number)s.") % {"number": plan.number}]


def _time(at: datetime) -> str:
    return date_format(timezone.localtime(at), "D j M H:i")
