"""Writing plans: a verified draft, a numbered version that is frozen, a draft dropped."""

import hashlib

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from planner.domain.errors import ConflictError, InternalError
from planner.domain.permissions import Action
from planner.domain.plan import BayPlan
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.domain.states import PLAN_STATES, PlanState
from planner.models import Plan, PlanBuild, Site, User
from planner.scheduling.plan_format import plan_write
from planner.scheduling.verify import verify
from planner.selectors.access import require_on_site
from planner.selectors.day_problem import DayProblem
from planner.selectors.plans import plan_content_get, plan_published_get
from planner.services.audit import audit_event_add
from planner.services.plan_replays import plan_replay_ask
from planner.services.promise_notices import promise_notices_ask
from planner.services.rows import row_add
from planner.services.webhook_events import plan_published_tell


def plan_draft_save(
    *,
    user: User,
    site: Site,
    day: DayProblem,
    problem_raw: bytes,
    plan: BayPlan,
    build: PlanBuild | None = None,
) -> Plan:
    """Store a plan as a draft with the very problem that it answers.

    Raises InternalError where `verify` finds a breach: no such plan is ever stored.
    """
    require_on_site(user=user, site=site, action=Action.PLAN_BUILD)
    _refuse_breaches(day.problem, plan, plan.problem_sha256)
    now = timezone.now()
    row = Plan(
        site=site,
        build=build,
        based_on=plan_published_get(user=user, site=site),
        horizon_start=day.problem.origin,
        horizon_end=day.end,
        problem_json=problem_raw.decode(),
        plan_json=plan_write(plan, day.problem).decode(),
        problem_sha256=plan.problem_sha256,
        verified_at=now,
        status=plan.status,
        lateness=plan.score.lateness,
        flow=plan.score.flow,
        bound=plan.bound,
        job_count=len(plan.schedule.jobs),
        unplanned_count=len(plan.unplanned),
        not_entered=[each.row() for each in day.not_entered],
        made_by=user,
        made_at=now,
    )
    row_add(user=user, site=site, row=row, action="plan_draft_save")
    return row


def plan_publish(*, user: User, plan: Plan, expected_number: int | None, why: str = "") -> Plan:
    """Freeze a draft as the site's next numbered plan; the one that held is superseded.

    `expected_number` is the published plan's number that the user last saw (None: none yet). Raises
    ConflictError, saying who, where another plan was published since; InternalError where the stored
    plan does not verify.
    """
    require_on_site(user=user, site=plan.site, action=Action.PLAN_PUBLISH)
    with transaction.atomic():
        row = _locked(plan)
        current = plan_published_get(user=user, site=row.site)
        _refuse_overtaken(current, expected_number)
        state = PLAN_STATES.after(row.state, "publish")
        _refuse_stale_copy(row)
        if current is not None:
            current.state = PLAN_STATES.after(current.state, "supersede")
            current.save(update_fields=["state"])
        last = Plan.objects.filter(site=row.site).aggregate(last=Max("number"))["last"] or 0
        row.number, row.state = last + 1, state
        row.published_by, row.published_at = user, timezone.now()
        row.save(update_fields=["number", "state", "published_by", "published_at"])
        audit_event_add(
            site=row.site, user=user, action="plan_publish", row=row, what=f"published {row}", why=why
        )
        plan_replay_ask(user=user, plan=row)
        plan_published_tell(plan=row, before=current)
        promise_notices_ask(plan=row)
    return row


def plan_drop(*, user: User, plan: Plan, why: str = "") -> None:
    """Put a draft away; a published plan cannot be dropped."""
    require_on_site(user=user, site=plan.site, action=Action.PLAN_BUILD)
    with transaction.atomic():
        row = _locked(plan)
        row.state = PLAN_STATES.after(row.state, "drop")
        row.save(update_fields=["state"])
        audit_event_add(site=row.site, user=user, action="plan_drop", row=row, what=f"dropped {row}", why=why)


def _locked(plan: Plan) -> Plan:
    """The plan as it is now, for this transaction alone; its site is locked first by whoever locks both."""
    Site.objects.select_for_update().get(pk=plan.site_id)
    rows = Plan.objects.select_for_update(of=("self",)).select_related("site", "published_by")
    return rows.get(pk=plan.pk)


def _refuse_overtaken(current: Plan | None, expected_number: int | None) -> None:
    number = None if current is None else current.number
    if number == expected_number:
        return
    if current is None or current.state != PlanState.PUBLISHED:
        raise ConflictError(
            _(
                "there is no published plan {expected_number} here: load the page again",
                expected_number=expected_number,
            )
        )
    publisher = current.published_by
    who = (publisher.get_full_name() or publisher.get_username()) if publisher else "Somebody"
    raise ConflictError(
        _(
            "{who} published plan {number} in the meantime: compare it with yours, then publish",
            who=who,
            number=number,
        )
    )


def _refuse_stale_copy(row: Plan) -> None:
    """Check the stored texts once more: the plan answers this problem and breaks none of its rules."""
    if hashlib.sha256(row.problem_json.encode()).hexdigest() != row.problem_sha256:
        raise InternalError(f"the problem stored with {row} is not the one that it answers")
    content = plan_content_get(plan=row)
    _refuse_breaches(content.problem, content.plan, row.problem_sha256)


def _refuse_breaches(problem: BayProblem, plan: BayPlan, sha256: str) -> None:
    breaches = verify(problem, plan, sha256=sha256)
    if breaches:
        raise InternalError("the plan breaks a rule: " + "; ".join(breach.message for breach in breaches[:3]))
