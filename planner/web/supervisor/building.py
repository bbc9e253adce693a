"""Build a plan: ask, watch, cancel."""

from datetime import timedelta

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST
from django_htmx.http import HttpResponseClientRedirect

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.nouns import PlanBuild
from planner.selectors.plan_builds import plan_build_get
from planner.selectors.plans import plan_published_get
from planner.services.plan_builds import plan_build_cancel, plan_build_start
from planner.web.here import Here, show, site_page
from planner.web.supervisor.average import average_of
from planner.web.supervisor.build_form import BuildForm
from planner.web.supervisor.curve import curve_of

_AGAIN_SECONDS = 3
STABILITIES = ("0", "20", "100")
_ENDED = ("done", "cancelled", "failed")


@require_POST
@site_page(Action.PLAN_BUILD)
def build(request: HttpRequest, here: Here) -> HttpResponse:
    """Ask for a plan."""
    form = BuildForm(request.POST, site=here.site)
    if not form.is_valid():
        raise InvalidValueError(_("Choose a first day, 1 to 28 days, and how long to search."))
    start, end = form.horizon(timezone.now())
    if end <= start:
        raise InvalidValueError(_("Those days are over. Choose today or a later day."))
    plan_build_start(
        user=here.user, site=here.site, start=start, end=end, seconds=form.cleaned_data["seconds"]
    )
    return redirect("plan", here.site.code)


@require_POST
@site_page(Action.PLAN_BUILD)
def again(request: HttpRequest, here: Here) -> HttpResponse:
    """Plan again from now to the published plan's end, moving as little of it as the reader wishes."""
    published = plan_published_get(user=here.user, site=here.site)
    now = timezone.now().replace(second=0, microsecond=0) + timedelta(minutes=1)
    if published is None or published.horizon_end <= now:
        raise InvalidValueError(_("No published plan holds now: build a new one."))
    dial = request.POST.get("stability", "")
    stability = int(dial) if dial in STABILITIES else 20
    plan_build_start(
        user=here.user, site=here.site, start=now, end=published.horizon_end, seconds=_AGAIN_SECONDS,
        stability=stability,
    )  # fmt: skip
    return redirect("plan", here.site.code)


@site_page(Action.SITE_READ)
def progress(request: HttpRequest, here: Here, build_id: int) -> HttpResponse:
    """How far a build is; once it has ended, the browser goes on to what it made."""
    row = plan_build_get(user=here.user, site=here.site, build_id=build_id)
    if row.state in _ENDED:
        return HttpResponseClientRedirect(_after(here, row))
    return _progress(request, here, row)


@require_POST
@site_page(Action.PLAN_BUILD)
def cancel(request: HttpRequest, here: Here, build_id: int) -> HttpResponse:
    """Stop looking: a running build keeps the best plan so far."""
    row = plan_build_get(user=here.user, site=here.site, build_id=build_id)
    plan_build_cancel(user=here.user, build=row)
    row.refresh_from_db()
    return _progress(request, here, row)


def _progress(request: HttpRequest, here: Here, row: PlanBuild) -> HttpResponse:
    curve = curve_of(row.curve, row.seconds, row.elapsed_seconds)
    return show(request, here, "supervisor/progress.html", build=row, curve=curve, average=average_of(row))


def _after(here: Here, row: PlanBuild) -> str:
    plan = getattr(row, "plan", None)
    if plan is None:
        return reverse("plan", args=[here.site.code])
    shown = reverse("plan_shown", args=[here.site.code, plan.pk])
    return shown if row.stability is None else f"{shown}?compare=yes"
