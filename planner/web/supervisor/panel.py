"""The panel beside the timeline: one tyre of the plan, and what can be done with it."""

from django.http import HttpRequest, HttpResponse

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.plan import PlannedJob
from planner.domain.work import Job
from planner.selectors.plans import PlanContent, plan_get
from planner.web.cautions import CAUTIONS
from planner.web.here import Here, show, site_page
from planner.web.supervisor.page_context import context_of
from planner.web.supervisor.plan_view import PlanView, plan_view, wish_of
from planner.web.timeline.appearance import stage_looks
from planner.web.timeline.ruler import local_time


@site_page(Action.SITE_READ)
def job_panel(request: HttpRequest, here: Here, plan_id: int, job: str) -> HttpResponse:
    """The stages of a job on the clock, and the form to move the one that was chosen."""
    row = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    view = plan_view(here, row, wish_of(request.GET))
    known = next((each for each in view.content.problem.jobs if each.id == job), None)
    if known is None:
        raise NotFoundError(f"there is no job {job} in this plan")
    planned = _planned(view.content, job)
    chosen = (
        next((each for each in planned.stages if each.name == request.GET.get("stage")), None)
        if planned
        else None
    )
    return show(
        request, here, "supervisor/panel.html", job=known, name=view.names.job(job), chosen=chosen,
        stages=_stages(here, view, known, planned),
        late=next((each for each in view.summary.late if each.job == job), None),
        left_out=next((each for each in view.summary.left_out if each.job == job), None),
        needed=local_time(view.content.problem.origin, known.needed_by, here.zone),
        chosen_start=chosen and local_time(view.content.problem.origin, chosen.start, here.zone),
        lane=request.GET.get("lane", ""),
        locked=any(each.id == job for each in view.content.problem.locked),
        **context_of(here, view),
    )  # fmt: skip


def _planned(content: PlanContent, job: str) -> PlannedJob | None:
    return next((each for each in content.plan.schedule.jobs if each.id == job), None)


def _stages(here: Here, view: PlanView, job: Job, planned: PlannedJob | None) -> list[dict[str, object]]:
    origin = view.content.problem.origin
    looks = stage_looks(job)
    return [
        {
            "stage": stage,
            "look": looks[stage.name],
            "start": local_time(origin, stage.start, here.zone),
            "end": local_time(origin, stage.end, here.zone),
            "people": [view.names.resource(name) for name in stage.technicians],
            "place": " · ".join(
                view.names.resource(name) for name in (stage.heater_set, stage.position) if name
            ),
            "cautions": CAUTIONS[looks[stage.name]],
        }
        for stage in (planned.stages if planned else ())
    ]
