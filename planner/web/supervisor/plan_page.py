"""The plan page: the newest draft for who plans, the plan that holds for everyone else."""

from django.http import HttpRequest, HttpResponse

from planner.domain.permissions import Action
from planner.selectors.late_reasons import late_reasons_get
from planner.selectors.nouns import Plan
from planner.selectors.plan_builds import plan_build_list, plan_build_open_get
from planner.selectors.plans import plan_get, plan_in_work_get, plan_list, plan_published_get
from planner.web.here import Here, show, site_page
from planner.web.supervisor.build_form import BuildForm
from planner.web.supervisor.edit_trail import EditTrail
from planner.web.supervisor.page_context import context_of
from planner.web.supervisor.plan_lists import late_rows
from planner.web.supervisor.plan_view import Wish, plan_view, wish_of


@site_page(Action.SITE_READ)
def plan_now(request: HttpRequest, here: Here) -> HttpResponse:
    """What the reader works with now."""
    return plan_page(request, here, _row_now(here))


@site_page(Action.SITE_READ)
def plan_shown(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """One draft or version."""
    return plan_page(request, here, plan_get(user=here.user, site=here.site, plan_id=plan_id))


@site_page(Action.SITE_READ)
def late_shown(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Why tyres are late; asked for after the page, since it takes longer than the rest of it."""
    row = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    rows = late_rows(here, plan_view(here, row, Wish()), late_reasons_get(plan=row))
    return show(request, here, "supervisor/late.html", late=rows)


@site_page(Action.SITE_READ)
def versions(request: HttpRequest, here: Here) -> HttpResponse:
    """All drafts and versions."""
    plans = plan_list(user=here.user, site=here.site)[:100]
    return show(request, here, "supervisor/versions.html", "plan", plans=plans)


def plan_page(request: HttpRequest, here: Here, row: Plan | None) -> HttpResponse:
    """The whole page, or its changing part where only that is asked for."""
    context = {
        "build_form": BuildForm(site=here.site),
        "build": _open_build(here),
        "last": _last_failure(here),
    }
    if row is None:
        return show(request, here, "supervisor/plan_empty.html", "plan", **context)
    view = plan_view(here, row, wish_of(request.GET))
    context |= context_of(here, view) | {"trail": EditTrail(request.session, here.site.code).around(row.pk)}
    return show(request, here, "supervisor/plan.html", "plan", **context)


def _row_now(here: Here) -> Plan | None:
    if here.allows(Action.PLAN_BUILD):
        return plan_in_work_get(user=here.user, site=here.site)
    return plan_published_get(user=here.user, site=here.site)


def _open_build(here: Here) -> object:
    return plan_build_open_get(user=here.user, site=here.site)


def _last_failure(here: Here) -> object:
    """The newest build, where it failed: the reader should know why nothing new is here."""
    last = plan_build_list(user=here.user, site=here.site).first()
    return last if last and last.state == "failed" else None
