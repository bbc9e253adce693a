"""One work order: the tyre, its damage, what the plan says, what happened, and what can be decided."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.http import HttpRequest, HttpResponse

from planner.domain.permissions import Action
from planner.domain.plan import PlannedStage
from planner.domain.states import NOT_BEGUN_WORK, OPEN_WORK, WORK_ORDER_STATES, WorkOrderState
from planner.selectors.accounts.approvals import booked_needs_get
from planner.selectors.audit_events import audit_event_list
from planner.selectors.day_problem import order_obstacle_list
from planner.selectors.notices import is_following
from planner.selectors.nouns import AuditEvent, Plan, WorkOrder
from planner.selectors.order_cures import order_cure_list, plan_hold_list
from planner.selectors.plan_promises import order_code
from planner.selectors.plans import plan_content_get, plan_published_get
from planner.selectors.spare_priorities import Suggestion, suggestion_get
from planner.selectors.work_orders import work_order_get
from planner.web.here import Here, show, site_page
from planner.web.maintenance.decide import DECISIONS, Decision
from planner.web.maintenance.queue import rows_of
from planner.web.supervisor.naming import names_get


@dataclass(frozen=True, slots=True, kw_only=True)
class StageRow:
    """A planned stage on the wall clock; `job` names the injury at its first one, where there are several."""

    stage: PlannedStage
    start: datetime
    end: datetime
    where: str
    who: str
    job: str


@site_page(Action.SITE_READ)
def work_order(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """The order's page."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    plan = plan_published_get(user=here.user, site=here.site)
    cures = order_cure_list(order=order)
    return show(
        request, here, "maintenance/work_order.html", "queue", order=order, published=plan,
        row=rows_of(plan, [order])[0],
        stages=_stages(here, plan, order),
        decisions=_decisions(here, order), events=_events(here, order), cures=cures,
        obstacles=_obstacles(here, order),
        holds=plan_hold_list(plan=plan, cures=cures) if order.state in OPEN_WORK else [],
        holds_back=order.state in NOT_BEGUN_WORK,
        suggestion=_suggestion(here, order), is_following=is_following(user=here.user, tyre=order.tyre),
        need=booked_needs_get(user=here.user, site=here.site, orders=[order.pk]).get(order.pk),
    )  # fmt: skip


def _stages(here: Here, plan: Plan | None, order: WorkOrder) -> list[StageRow]:
    """The stages of each of its injuries, in the bay's own names."""
    if plan is None:
        return []
    content = plan_content_get(plan=plan)
    jobs = [job for job in content.plan.schedule.jobs if order_code(job.id) == order.code]
    if not jobs:
        return []
    names, start = names_get(here, content.problem), content.problem.origin.astimezone(UTC)
    return [
        StageRow(
            stage=stage,
            start=start + timedelta(minutes=stage.start),
            end=start + timedelta(minutes=stage.end),
            where=", ".join(names.resource(each) for each in (stage.heater_set, stage.position) if each),
            who=", ".join(names.resource(each) for each in stage.technicians),
            job=job.id if len(jobs) > 1 and at == 0 else "",
        )
        for job in sorted(jobs, key=lambda each: each.stages[0].start)
        for at, stage in enumerate(job.stages)
    ]


def _obstacles(here: Here, order: WorkOrder) -> list[str]:
    """What would keep an order that is still to be decided out of every plan."""
    if order.state != WorkOrderState.RECEIVED:
        return []
    return order_obstacle_list(user=here.user, site=here.site, order=order)


def _suggestion(here: Here, order: WorkOrder) -> Suggestion | None:
    if order.state not in OPEN_WORK:
        return None
    return suggestion_get(user=here.user, site=here.site, order=order)


def _decisions(here: Here, order: WorkOrder) -> list[Decision]:
    """What the reader may decide from the order's state."""
    if not here.allows(Action.WORK_ORDER_DECIDE):
        return []
    possible = WORK_ORDER_STATES.moves_from(order.state)
    return [decision for move, decision in DECISIONS.items() if move in possible]


def _events(here: Here, order: WorkOrder) -> list[AuditEvent]:
    if not here.allows(Action.AUDIT_READ):
        return []
    events = audit_event_list(user=here.user, site=here.site, noun="workorder", noun_id=str(order.pk))
    return list(events[:20])
