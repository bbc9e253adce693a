"""Change the draft by hand: each view calls one service and answers with the plan as it then stands."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from django.http import HttpRequest, HttpResponse, QueryDict
from django.urls import reverse
from django.utils import timezone
from django.utils.dateparse import parse_datetime
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError, UserError
from planner.domain.permissions import Action
from planner.selectors.nouns import Plan
from planner.selectors.plans import plan_content_get, plan_get
from planner.selectors.telling import in_words
from planner.services import plan_edit
from planner.web.here import Here, show, site_page
from planner.web.supervisor.breach_words import breach_words
from planner.web.supervisor.edit_trail import EditTrail
from planner.web.supervisor.naming import names_get
from planner.web.supervisor.page_context import context_of
from planner.web.supervisor.plan_view import PlanView, minute_of, plan_view, wish_of
from planner.web.timeline.items import LaneKind
from planner.web.timeline.ruler import local_time


@dataclass(frozen=True, slots=True, kw_only=True)
class EditNotice:
    """What an edit did, or which rules it would have broken and what holds nearby."""

    words: str
    level: str = "good"
    breaches: tuple[str, ...] = ()
    nearest: str = ""
    nearest_values: tuple[tuple[str, object], ...] = ()


@require_POST
@site_page(Action.PLAN_BUILD)
def move(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Put a bar elsewhere; where that breaks a rule nothing changes, and the answer says which."""
    draft = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    wanted = _move_of(here, draft, request.POST)
    try:
        changed = plan_edit.plan_move(user=here.user, draft=draft, move=wanted)
    except plan_edit.RefusedMoveError as refused:
        return _answer(request, here, draft, _refusal(here, draft, request.POST, refused))
    except UserError as error:
        return _answer(request, here, draft, EditNotice(words=in_words(error), level="bad"))
    return _changed(request, here, draft, changed, _("Moved. Every rule still holds."))


Edit = Callable[..., Plan]


def _edit_view(edit: Edit, words: Promise) -> Callable[..., HttpResponse]:
    @require_POST
    @site_page(Action.PLAN_BUILD)
    def view(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
        draft = plan_get(user=here.user, site=here.site, plan_id=plan_id)
        try:
            changed = edit(user=here.user, draft=draft, job=request.POST.get("job", ""))
        except UserError as error:
            return _answer(request, here, draft, EditNotice(words=in_words(error), level="bad"))
        return _changed(request, here, draft, changed, str(words) % {"job": request.POST.get("job", "")})

    return view


lock = _edit_view(plan_edit.plan_lock, gettext_lazy("%(job)s is locked where it stands."))
unlock = _edit_view(plan_edit.plan_unlock, gettext_lazy("%(job)s may move again."))
leave_out = _edit_view(plan_edit.plan_leave_out, gettext_lazy("%(job)s is left out of this plan."))
put_first = _edit_view(plan_edit.plan_put_first, gettext_lazy("%(job)s has the earliest place it can have."))


def _changed(request: HttpRequest, here: Here, draft: Plan, changed: Plan, words: str) -> HttpResponse:
    EditTrail(request.session, here.site.code).step(draft.pk, changed.pk)
    response = _answer(request, here, changed, EditNotice(words=words))
    query = wish_of(_wishes(request)).query
    response["HX-Push-Url"] = f"{reverse('plan_shown', args=[here.site.code, changed.pk])}?{query}"
    return response


def _answer(request: HttpRequest, here: Here, row: Plan, notice: EditNotice) -> HttpResponse:
    view = plan_view(here, row, wish_of(_wishes(request)))
    trail = EditTrail(request.session, here.site.code).around(row.pk)
    context = context_of(here, view) | {"notice": notice, "trail": trail, "is_answer": True}
    return show(request, here, "supervisor/plan_answer.html", "plan", **context)


def _wishes(request: HttpRequest) -> QueryDict:
    """The view is named in the form of a drag and in the address of a button."""
    return request.POST if "zoom" in request.POST else request.GET


def _move_of(here: Here, draft: Plan, told: QueryDict) -> plan_edit.Move:
    lane, before = told.get("lane") or None, told.get("from")
    changed = lane if lane != before else None
    kind = wish_of(told).lanes
    return plan_edit.Move(
        job=told.get("job", ""),
        stage=told.get("stage", ""),
        start=_start_of(here, draft, told),
        heater_set=changed if kind is LaneKind.HEATER_SETS else None,
        position=changed if kind is LaneKind.POSITIONS else None,
        technician=changed if kind is LaneKind.TECHNICIANS else None,
        instead_of=before if kind is LaneKind.TECHNICIANS else None,
    )


def _start_of(here: Here, draft: Plan, told: QueryDict) -> int:
    """From a drag in minutes of the horizon, from the form as a time on the site's clock."""
    start = told.get("start", "")
    if start.removeprefix("-").isdecimal() and len(start) < 9:
        return int(start)
    try:
        at = parse_datetime(told.get("at", ""))
    except ValueError:
        at = None
    if at is None:
        raise InvalidValueError(_("Say when it is to start, as a day and a time."))
    return minute_of(plan_content_get(plan=draft).problem, _aware(at))


def _aware(at: datetime) -> datetime:
    return at if timezone.is_aware(at) else timezone.make_aware(at)


def _refusal(here: Here, draft: Plan, told: QueryDict, refused: plan_edit.RefusedMoveError) -> EditNotice:
    near = refused.nearest
    problem = plan_content_get(plan=draft).problem
    names = names_get(here, problem)
    breaches = tuple(breach_words(message, names) for message in refused.breaches)
    if near is None:
        words = _("That would break a rule, and nothing near it holds. Nothing was moved.")
        return EditNotice(words=words, level="bad", breaches=breaches)
    told_again = ((name, told.get(name, "")) for name in ("job", "stage", "lane", "from", "lanes", "zoom"))
    return EditNotice(
        words=_("That would break a rule. Nothing was moved."),
        level="bad",
        breaches=breaches,
        nearest=f"{local_time(problem.origin, near.start, here.zone):%a %H:%M}",
        nearest_values=(*told_again, ("start", near.start)),
    )


def levers(view: PlanView, job: str, is_planned: bool) -> list[tuple[str, str]]:
    """What can be done with the job, by the address's name and in words."""
    locked = any(each.id == job for each in view.content.problem.locked)
    if not is_planned:
        return [("plan_first", _("Put it first"))]
    if locked:
        return [("plan_unlock", _("Unlock"))]
    return [
        ("plan_lock", _("Lock it here")),
        ("plan_first", _("Put it first")),
        ("plan_leave_out", _("Leave it out")),
    ]
