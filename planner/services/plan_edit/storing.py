"""A changed draft is a new draft: verified like every plan, and the one before it stays for undo."""

import hashlib
from dataclasses import replace

from planner.domain.plan import BayPlan, PlannedJob, PlanStatus, Reason, Schedule, Score, UnplannedJob
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.domain.states import PlanState, WrongStateError
from planner.models import Plan, User
from planner.scheduling.problem_format import problem_write
from planner.scheduling.score import score
from planner.selectors.day_problem import DayProblem, NotEntered
from planner.selectors.plans import PlanContent, plan_content_get
from planner.services.plans import plan_draft_save

BY_HAND = Reason(code="left_out_by_hand", message=_("the supervisor left it out"))
NO_ROOM_LEFT = Reason(code="no_room_left", message=_("it has no room beside what the supervisor put first"))


def draft_content(draft: Plan) -> PlanContent:
    """What stands in a draft; WrongStateError where it is no draft any more."""
    if draft.state != PlanState.DRAFT:
        raise WrongStateError(
            _(
                "{draft} is {state}: build a new plan instead.",
                draft=draft,
                state=draft.get_state_display(),
            )
        )
    return plan_content_get(plan=draft)


def changed_draft(
    *,
    user: User,
    draft: Plan,
    content: PlanContent,
    schedule: Schedule,
    locked: tuple[PlannedJob, ...] | None = None,
    reason: Reason = NO_ROOM_LEFT,
) -> Plan:
    """Save the draft with another schedule; `reason` is that of jobs which had a place and lost it."""
    problem = content.problem if locked is None else replace(content.problem, locked=locked)
    raw = problem_write(problem)
    plan = BayPlan(
        problem_sha256=hashlib.sha256(raw).hexdigest(),
        status=PlanStatus.FEASIBLE,
        score=score(problem, schedule.jobs),
        bound=_bound(content.plan, problem, schedule),
        schedule=schedule,
        unplanned=_unplanned(content, schedule, reason),
    )
    day = DayProblem(problem=problem, not_entered=tuple(NotEntered.of(each) for each in draft.not_entered))
    return plan_draft_save(user=user, site=draft.site, day=day, problem_raw=raw, plan=plan)


def _bound(plan: BayPlan, problem: BayProblem, schedule: Schedule) -> int:
    """The proven bound still holds for the same work: more locks can only make a plan later."""
    reached: Score = score(problem, schedule.jobs)
    return min(plan.bound, reached.lateness)


def _unplanned(content: PlanContent, schedule: Schedule, reason: Reason) -> tuple[UnplannedJob, ...]:
    planned = {job.id for job in schedule.jobs}
    before = {each.job: each for each in content.plan.unplanned}
    return tuple(
        before.get(job.id, UnplannedJob(job=job.id, reasons=(reason,)))
        for job in content.problem.jobs
        if job.id not in planned
    )
