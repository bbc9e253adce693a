"""Asking what would help a plan, and cancelling the answer."""

from celery import current_app
from django.db import transaction
from django.utils import timezone

from planner.domain.permissions import Action
from planner.domain.states import PLAN_BUILD_STATES, PlanBuildState
from planner.models import LeverQuestion, LeverTrialRow, Plan, User
from planner.selectors.access import require_on_site
from planner.selectors.plans import plan_content_get
from planner.services.lever_endings import BASELINE_TASK, OPEN, levers_resume
from planner.services.rows import row_add
from planner.solver.levers import levers_for


def levers_ask(*, user: User, plan: Plan, seconds: int = 8) -> LeverQuestion:
    """Have every lever of the plan's bay tried, each by a task of its own; an open question is given back."""
    require_on_site(user=user, site=plan.site, action=Action.PLAN_BUILD)
    levers_resume(plan=plan)
    with transaction.atomic():
        known = LeverQuestion.objects.filter(plan=plan, state__in=OPEN).first()
        if known is not None:
            return known
        question = LeverQuestion(
            site=plan.site, plan=plan, asked_by=user, asked_at=timezone.now(), seconds=seconds
        )
        row_add(user=user, site=plan.site, row=question, action="levers_ask")
        levers = levers_for(plan_content_get(plan=plan).problem)
        LeverTrialRow.objects.bulk_create(
            LeverTrialRow(site=plan.site, question=question, lever=lever.id, words=lever.words[:200])
            for lever in levers
        )
        transaction.on_commit(lambda: current_app.send_task(BASELINE_TASK, args=[question.pk]), robust=True)
    return question


def levers_cancel(*, user: User, question: LeverQuestion) -> None:
    """Stop: what was tried stays, what waits is not tried, what runs ends within a second."""
    require_on_site(user=user, site=question.site, action=Action.PLAN_BUILD)
    with transaction.atomic():
        row = LeverQuestion.objects.select_for_update().get(pk=question.pk)
        row.cancel_requested = True
        if PLAN_BUILD_STATES.allows(row.state, "cancel"):
            row.state = PLAN_BUILD_STATES.after(row.state, "cancel")
        row.save(update_fields=["cancel_requested", "state"])
        row.trials.filter(state=PlanBuildState.QUEUED).update(state=PlanBuildState.CANCELLED)
