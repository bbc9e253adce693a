"""The odds of a plan, beside its timeline: shown once a worker has replayed it."""

import time
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_POST

from planner.domain.permissions import Action
from planner.selectors.nouns import Plan
from planner.selectors.plan_odds import PlanOdds, ReadyOdds, plan_odds_get
from planner.selectors.plans import plan_content_get, plan_get
from planner.services.plan_replays import plan_replay_ask
from planner.web.here import Here, show, site_page
from planner.web.supervisor.naming import JobName, names_get
from planner.web.timeline.ruler import local_time

_WAITED_FOR = timedelta(minutes=10)


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
    asked = request.GET.get("asked", "")
    return _part(request, here, row, asked=int(asked) if asked.isdecimal() and len(asked) <= 12 else None)


@require_POST
@site_page(Action.SITE_READ)
def odds_ask(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Have a worker replay this plan, as after an edit by hand."""
    row = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    plan_replay_ask(user=here.user, plan=row)
    return _part(request, here, row, asked=int(time.time()))


def _part(request: HttpRequest, here: Here, row: Plan, *, asked: int | None) -> HttpResponse:
    """The odds; while they are waited for, the page asks again, and after ten minutes says that none came."""
    odds = plan_odds_get(plan=row)
    by_itself = row.published_at or (row.made_at if row.build_id is not None else None)
    if asked is None and by_itself is not None:
        asked = int(by_itself.timestamp())
    is_over = asked is not None and asked < (timezone.now() - _WAITED_FOR).timestamp()
    return show(
        request, here, "supervisor/odds.html", row=row, odds=odds, asked=asked,
        odds_rows=odds_rows(here, row, odds) if odds else [],
        is_waiting=odds is None and asked is not None and not is_over, is_over=is_over,
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
