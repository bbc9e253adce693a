"""A tap from the floor: recorded once, however often the tablet sends it."""

import base64
import binascii
import hashlib
import json
from datetime import UTC, datetime

from django.http import HttpRequest, HttpResponse, JsonResponse, QueryDict
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError, NotFoundError, UserError
from planner.domain.permissions import Action
from planner.domain.plan import PlannedStage
from planner.domain.taking_back import StageTap
from planner.selectors.plans import plan_content_get, plan_published_get
from planner.selectors.reading_units import gauge_reading
from planner.selectors.telling import in_words
from planner.services import floor_reports
from planner.services.floor_reports import Tap
from planner.services.kept_answers import Answer, answer_once
from planner.web.floor import attending
from planner.web.here import Here, site_page


@require_POST
@site_page(Action.WORK_RECORD)
def tap(request: HttpRequest, here: Here) -> HttpResponse:
    """Begin, end, read, attend, photograph or tell a problem; the answer says in plain words why not."""
    told = request.POST
    try:
        key = request.headers.get("Idempotency-Key", "")
        if not key:
            return JsonResponse({"words": _record(here, told)})
        answer = answer_once(
            user=here.user, key=f"tap:{key}"[:200], request_sha256=_digest(told),
            work=lambda: Answer(status=200, body=json.dumps({"words": _record(here, told)})),
        )  # fmt: skip
    except UserError as error:
        return JsonResponse({"words": in_words(error)}, status=409)
    return HttpResponse(answer.body, status=answer.status, content_type="application/json")


def _record(here: Here, told: QueryDict) -> str:
    """What was tapped goes on record; what to say of it, empty where the page shows it."""
    at = min(_when(told.get("at", "")), timezone.now())  # a tablet's clock may run ahead
    match told.get("action"):
        case "attend":
            return attending.attend(here, told, at)
        case "leave":
            return attending.leave(here, told, at)
        case "hand-over":
            return attending.hand_over(here, told)
        case "take-back":
            return _taken_back(here, told, at)
    return _record_stage(here, told, at)


def _taken_back(here: Here, told: QueryDict, at: datetime) -> str:
    """By injury and stage: a plan that was published since may no longer hold the stage."""
    try:
        tap = StageTap(told.get("tap", ""))
    except ValueError as fault:
        raise NotFoundError(_("no tap was named: load the page again")) from fault
    row = floor_reports.stage_take_back(
        user=here.user, site=here.site, damage_id=attending.damage_told(told), stage=told.get("stage", ""),
        tap=tap, at=at, set_is_safe=told.get("safe") == "yes",
    )  # fmt: skip
    words = {
        StageTap.START: _("Taken back: %(stage)s of %(order)s has not begun."),
        StageTap.END: _("Taken back: %(stage)s of %(order)s goes on."),
    }
    return words[tap] % {"stage": row.stage, "order": row.work_order}


def _record_stage(here: Here, told: QueryDict, at: datetime) -> str:
    what = Tap(job=told.get("job", ""), stage=_planned_stage(here, told), at=at)
    user, site = here.user, here.site
    match told.get("action"):
        case "begin":
            floor_reports.stage_begin(user=user, site=site, tap=what)
            return attending.attend_begun(here, told, at) if told.get("technician") else ""
        case "end":
            floor_reports.stage_end(user=user, site=site, tap=what)
        case "reading":
            reading = gauge_reading(here.reading, told)
            floor_reports.stage_reading(user=user, site=site, job=what.job, at=what.at, reading=reading)
        case "photo":
            floor_reports.stage_photo(
                user=user, site=site, tap=what, raw=_picture(told), words=told.get("words", "")
            )
            return _("The photo is on record.")
        case "problem":
            floor_reports.stage_problem(user=user, site=site, tap=what, words=told.get("words", ""))
            return _("The supervisor sees it on their first page now.")
        case other:
            raise NotFoundError(f"there is nothing called {other} to record")
    return ""


def _planned_stage(here: Here, told: QueryDict) -> PlannedStage:
    plan = plan_published_get(user=here.user, site=here.site)
    jobs = plan_content_get(plan=plan).plan.schedule.jobs if plan else ()
    for job in jobs:
        for stage in job.stages:
            if (job.id, stage.name) == (told.get("job"), told.get("stage")):
                return stage
    raise NotFoundError("the plan changed and this stage is no longer in it: load the page again")


def _picture(told: QueryDict) -> bytes:
    """The bytes of a data address, as the tablet's canvas writes them."""
    try:
        return base64.b64decode(told.get("photo", "").partition(",")[2], validate=True)
    except binascii.Error as fault:
        raise InvalidValueError(_("The photo was lost on the way: take it again.")) from fault


def _digest(told: QueryDict) -> str:
    return hashlib.sha256(json.dumps(sorted(told.lists())).encode()).hexdigest()


def _when(milliseconds: str) -> datetime:
    """When the tablet was tapped, in milliseconds since 1970; now where it does not say."""
    if not milliseconds.isdecimal() or len(milliseconds) > 14:
        return timezone.now()
    return datetime.fromtimestamp(int(milliseconds) / 1000, tz=UTC)
