"""The first page: what needs the reader now, by their role."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from planner.domain.permissions import Action, Role
from planner.domain.states import WorkOrderState
from planner.selectors.accounts.approvals import waiting_get
from planner.selectors.nouns import Plan, WorkOrder
from planner.selectors.overruns import overrun_list
from planner.selectors.plan_builds import plan_build_open_get
from planner.selectors.plan_promises import not_entered_map_get, promise_map_get
from planner.selectors.plans import plan_draft_get, plan_published_get
from planner.selectors.site_readiness import site_lack_list
from planner.selectors.upkeep import upkeep_get
from planner.selectors.work_orders import work_order_list
from planner.web.entrance.own_day import own_day
from planner.web.entrance.problems import problem_list
from planner.web.here import Here, show, site_page
from planner.web.maintenance.queue import QueueRow
from planner.web.maintenance.resources import set_rows

_ROWS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Worries:
    """Orders that somebody should look at."""

    undecided: list[WorkOrder]
    late: list[QueueRow]
    left_out: list[QueueRow]
    due_soon: list[QueueRow]
    not_yet: list[QueueRow]
    cannot: list[QueueRow]


@site_page(Action.SITE_READ)
def today(request: HttpRequest, here: Here) -> HttpResponse:
    """One page; its parts depend on what the reader may do."""
    plan = plan_published_get(user=here.user, site=here.site)
    orders = list(work_order_list(user=here.user, site=here.site))
    now = timezone.now()
    context: dict[str, Any] = {
        "now": now,
        "plan": plan,
        "plan_is_over": plan is not None and plan.horizon_end <= now,
        "worries": worries(plan, orders),
        "open_count": len(orders),
        "sets_out": [row for row in set_rows(here, now) if row.faults],
        "rows_shown": _ROWS,
    }
    if here.allows(Action.PLAN_BUILD):
        context["draft"] = _newer_draft(here, plan)
        problems = problem_list(here, plan, orders, now)
        context["is_broken"] = any(each.is_broken for each in problems)
        context["problems"] = problems
        context["overruns"] = overrun_list(user=here.user, site=here.site, plan=plan, now=now)
        context["build"] = plan_build_open_get(user=here.user, site=here.site)
    if here.allows(Action.SPEND_APPROVE):
        waiting = waiting_get(user=here.user, site=here.site)
        context["approvals"] = [(order, waiting[order.code]) for order in orders if order.code in waiting]
    if plan is None and here.allows(Action.SITE_CHANGE):
        context["lacks"] = site_lack_list(user=here.user, site=here.site, today=timezone.localdate(now))
    if here.allows(Action.CLOSURE_CHANGE):
        context["upkeep"] = upkeep_get(user=here.user, site=here.site, today=timezone.localdate(now))
    if here.role is Role.TECHNICIAN:
        context["own"] = own_day(here, plan, now)
    return show(request, here, "entrance/today.html", "today", **context)


def worries(plan: Plan | None, orders: list[WorkOrder]) -> Worries:
    """Sort the open orders by what they need; what no plan knows yet by how soon it is needed."""
    promises, kept_out = promise_map_get(plan=plan), not_entered_map_get(plan=plan)
    rows = [
        QueueRow(order=order, promise=promises.get(order.code), not_entered=kept_out.get(order.code, ""))
        for order in orders
    ]
    new = [row for row in rows if row.is_planned and row.promise is None and not row.not_entered]
    planned = [row for row in rows if row.promise is not None]
    soon = timezone.now() + timedelta(days=2)
    return Worries(
        undecided=[order for order in orders if order.state == WorkOrderState.RECEIVED],
        late=[row for row in planned if row.promise and row.promise.minutes_late],
        left_out=[row for row in planned if row.promise and row.promise.ready_at is None],
        due_soon=[
            row for row in planned if row.promise and row.promise.ready_at and row.promise.ready_at <= soon
        ],
        not_yet=sorted(new, key=lambda row: row.order.needed_by) if plan is not None else [],
        cannot=[row for row in rows if row.is_planned and row.not_entered],
    )


def _newer_draft(here: Here, plan: Plan | None) -> Plan | None:
    draft = plan_draft_get(user=here.user, site=here.site)
    if draft is None or (plan and plan.published_at and plan.published_at > draft.made_at):
        return None
    return draft
