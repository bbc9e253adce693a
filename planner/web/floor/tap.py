"""A tap from the floor: recorded once, however often the tablet sends it."""

from datetime import UTC, datetime

from django.http import HttpRequest, HttpResponse, JsonResponse, QueryDict
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import NotFoundError, UserError
from planner.domain.permissions import Action
from planner.domain.plan import PlannedStage
from planner.selectors.plans import plan_content_get, plan_published_get
from planner.services.floor_reports import Tap, stage_begin, stage_end, stage_problem
from planner.web.here import Here, site_page


@require_POST
@site_page(Action.WORK_RECORD)
def tap(request: HttpRequest, here: Here) -> HttpResponse:
    """Begin, end or tell a problem; the answer says in plain words why not, where it can't be."""
    told = request.POST
    try:
        what = Tap(job=told.get("job", ""), stage=_planned_stage(here, told), at=_when(told.get("at", "")))
        match told.get("action"):
            case "begin":
                stage_begin(user=here.user, site=here.site, tap=what)
            case "end":
                stage_end(user=here.user, site=here.site, tap=what)
            case "problem":
                stage_problem(user=here.user, site=here.site, tap=what, words=told.get("words", ""))
                return JsonResponse({"words": _("The supervisor sees it on their first page now.")})
            case other:
                raise NotFoundError(f"there is nothing called {other} to record")
    except UserError as error:
        return JsonResponse({"words": str(error)}, status=409)
    return JsonResponse({"words": ""})


def _planned_stage(here: Here, told: QueryDict) -> PlannedStage:
    plan = plan_published_get(user=here.user, site=here.site)
    jobs = plan_content_get(plan=plan).plan.schedule.jobs if plan else ()
    for job in jobs:
        for stage in job.stages:
            if (job.id, stage.name) == (told.get("job"), told.get("stage")):
                return stage
    raise NotFoundError("the plan changed and this stage is no longer in it: load the page again")


def _when(milliseconds: str) -> datetime:
    """When the tablet was tapped, in milliseconds since 1970; now where it does not say."""
    if not milliseconds.isdecimal() or len(milliseconds) > 14:
        return timezone.now()
    return datetime.fromtimestamp(int(milliseconds) / 1000, tz=UTC)
