"""Why an order is promised when it is, and what would bring it forward."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from planner.domain.permissions import Action
from planner.domain.plan import Reason
from planner.selectors.late_reasons import late_reasons_get
from planner.selectors.lever_answers import lever_question_get, lever_trial_list
from planner.selectors.nouns import Plan
from planner.selectors.plan_promises import order_code
from planner.selectors.plans import plan_content_get, plan_published_get
from planner.selectors.telling import in_words
from planner.selectors.work_orders import work_order_get
from planner.web.here import Here, show, site_page
from planner.web.maintenance.queue import QueueRow, rows_of
from planner.web.supervisor.breach_words import breach_words
from planner.web.supervisor.help_wanted import LeverRow, lever_rows
from planner.web.supervisor.naming import names_get

_MOST_LEVERS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Forward:
    """What the trials say would bring tyres forward; `is_asked` where somebody asked at all."""

    levers: list[LeverRow]
    is_asked: bool


@site_page(Action.SITE_READ)
def why(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """A part of the order's page: asked for once the page stands, for it may be reckoned anew."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    plan = plan_published_get(user=here.user, site=here.site)
    (row,) = rows_of(plan, [order])
    return show(
        request, here, "maintenance/why.html", order=order, published=plan, row=row,
        reasons=_reasons(here, plan, row) if plan else [],
        forward=_forward(here, plan) if plan else None,
    )  # fmt: skip


def _reasons(here: Here, plan: Plan, row: QueueRow) -> list[str]:
    """In the bay's own names and times; empty where nothing keeps it."""
    order, promise = row.order, row.promise
    if promise is None:
        return [in_words(row.not_entered)] if row.not_entered else []
    found: list[Reason] = list(promise.reasons)
    if promise.minutes_late:
        late = late_reasons_get(plan=plan)
        found += [each for job, those in late.items() if order_code(job) == order.code for each in those]
    if not found:
        return []
    problem = plan_content_get(plan=plan).problem
    names = names_get(here, problem)
    return [breach_words(reason.message, names) for reason in found]


def _forward(here: Here, plan: Plan) -> Forward:
    """The levers that were tried on this plan and gain more than chance, what gains most first."""
    question = lever_question_get(user=here.user, plan=plan)
    if question is None:
        return Forward(levers=[], is_asked=False)
    gained = [
        trial
        for trial in lever_trial_list(question=question)
        if trial.state == "done" and not trial.within_noise and (trial.lateness_gain or 0) > 0
    ]
    rows = lever_rows(here, plan, gained[:_MOST_LEVERS]) if gained else []
    return Forward(levers=rows, is_asked=True)
