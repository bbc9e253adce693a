"""The odds of a plan, beside its timeline: shown once a worker has replayed it."""

from dataclasses import dataclass
from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST

from planner.domain.permissions import Action
from planner.selectors.nouns import Plan
from planner.selectors.plan_odds import PlanOdds, ReadyOdds, plan_odds_stored_get
from planner.selectors.plans import plan_content_get, plan_get
from planner.services.plan_replays import plan_replay_ask
from planner.web.here import Here, show, site_page
from planner.web.supervisor.naming import JobName, names_get
from planner.web.timeline.ruler import local_time


@dataclass(frozen=True, slots=True, kw_only=True)
class OddsRow:
    """One planned tyre with its odds."""

    name: JobName
    ready: datetime
    odds: ReadyOdds


@site_page(Action.SITE_READ)
def odds_shown(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """The least likely tyre first; nothing yet while the worker has not come to it."""
    row = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    return _part(request, here, row, is_asked=request.GET.get("asked") == "yes")


@require_POST
@site_page(Action.SITE_READ)
def odds_ask(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Have a worker replay this plan, as after an edit by hand."""
    row = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    plan_replay_ask(user=here.user, plan=row)
    return _part(request, here, row, is_asked=True)


def _part(request: HttpRequest, here: Here, row: Plan, *, is_asked: bool) -> HttpResponse:
    odds = plan_odds_stored_get(plan=row)
    rows = odds_rows(here, row, odds) if odds else []
    return show(
        request, here, "supervisor/odds.html", row=row, odds=odds, odds_rows=rows,
        is_asked=is_asked or (row.build_id is not None and odds is None),
    )  # fmt: skip


def odds_rows(here: Here, row: Plan, odds: PlanOdds) -> list[OddsRow]:
    """Each planned tyre beside its planned time, the least likely to be in time first."""
    content = plan_content_get(plan=row)
    names = names_get(here, content.problem)
    ends = {job.id: job.end for job in content.plan.schedule.jobs}
    rows = [
        OddsRow(
            name=names.job(each.job),
            ready=local_time(content.problem.origin, ends[each.job], here.zone),
            odds=each,
        )
        for each in odds.jobs
    ]
    return sorted(rows, key=lambda each: each.odds.in_time)
