"""The panel beside the timeline: one tyre of the plan, and what can be done with it."""

from django.http import HttpRequest, HttpResponse

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.work import Job
from planner.selectors.plans import PlanContent, plan_get
from planner.web.cautions import CAUTIONS
from planner.web.here import Here, show, site_page
from planner.web.supervisor.editing import levers
from planner.web.supervisor.page_context import context_of
from planner.web.supervisor.plan_view import PlanView, plan_view, wish_of
from planner.web.timeline.appearance import stage_looks
from planner.web.timeline.items import LaneKind
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
    chosen = _chosen(planned, request.GET.get("stage", ""))
    lane = request.GET.get("lane", "")
    problem = view.content.problem
    return show(
        request,
        here,
        "supervisor/panel.html",
        job=known,
        name=view.names.job(job),
        chosen=chosen,
        stages=_stages(here, view, known, planned),
        own_late=next((each for each in view.summary.late if each.job == job), None),
        own_left_out=next((each for each in view.summary.left_out if each.job == job), None),
        needed=local_time(problem.origin, known.needed_by, here.zone),
        chosen_start=chosen and local_time(problem.origin, chosen.start, here.zone),
        lane=lane,
        choices=_choices(view, known, chosen, lane),
        locked=any(each.id == job for each in problem.locked),
        levers=levers(view, job, planned is not None),
        **context_of(here, view),
    )


def _chosen(planned: PlannedJob | None, stage: str) -> PlannedStage | None:
    return next((each for each in planned.stages if each.name == stage), None) if planned else None


def _choices(view: PlanView, job: Job, chosen: PlannedStage | None, lane: str) -> list[tuple[str, str]]:
    """The lanes that the chosen stage could go to, the one that it is in among them."""
    if chosen is None:
        return []
    asked = next(stage for stage in job.stages if stage.name == chosen.name)
    match view.wish.lanes:
        case LaneKind.HEATER_SETS:
            ids = list(job.heater_sets) if asked.block else []
        case LaneKind.POSITIONS:
            ids = list(job.positions.get(asked.place or "", ()))
        case LaneKind.TECHNICIANS:
            able = [each for each in view.content.problem.technicians if asked.skill in each.skills]
            ids = [each.id for each in able if each.id == lane or each.id not in chosen.technicians]
    return [(each, view.names.resource(each)) for each in ids]


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
