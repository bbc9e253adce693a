"""How a question of levers ends: all tried, its worker dead, or lost with the queue."""

from datetime import timedelta

from celery import current_app
from django.db import transaction
from django.utils import timezone

from planner.domain.states import PLAN_BUILD_STATES, PlanBuildState
from planner.models import LeverQuestion, Plan

BASELINE_TASK = "planner.tasks.lever_baseline"
TRIAL_TASK = "planner.tasks.lever_trial"
OPEN = (PlanBuildState.QUEUED, PlanBuildState.RUNNING)
SILENT_AFTER = timedelta(minutes=2)
UNTAKEN_AFTER = timedelta(minutes=15)
# The clock asks each minute: what nobody took up until then is dropped by the queue and sent anew.
_SENT_AGAIN_FOR_SECONDS = 55


def levers_settle(question_id: int) -> None:
    """Count the question as done once no trial is open any more."""
    row = LeverQuestion.objects.select_for_update().get(pk=question_id)
    if not row.trials.filter(state__in=OPEN).exists() and PLAN_BUILD_STATES.allows(row.state, "finish"):
        row.state = PLAN_BUILD_STATES.after(row.state, "finish")
        row.save(update_fields=["state"])


def levers_fail(question_id: int) -> None:
    """End the question and what of it was not tried."""
    with transaction.atomic():
        row = LeverQuestion.objects.select_for_update().get(pk=question_id)
        if PLAN_BUILD_STATES.allows(row.state, "fail"):
            row.state = PLAN_BUILD_STATES.after(row.state, "fail")
            row.save(update_fields=["state"])
        row.trials.filter(state__in=OPEN).update(state=PlanBuildState.FAILED)


def levers_resume(*, plan: Plan | None = None, silent_for: timedelta = SILENT_AFTER) -> int:
    """Go on with questions of which no worker has told anything for `silent_for`; how many there were.

    What a worker had in its hands has failed; what was waiting is queued again, for its message may be lost
    with the queue. Without the search of the bay as it is there is nothing to set a lever beside, and what
    nobody took up within a quarter of an hour ends: the question fails.
    """
    now = timezone.now()
    silent = LeverQuestion.objects.filter(state__in=OPEN, heard_at__lte=now - silent_for)
    if plan is not None:
        silent = silent.filter(plan=plan)
    rows = list(silent)
    for row in rows:
        has_no_baseline = row.state == PlanBuildState.RUNNING and not row.baseline_json
        if has_no_baseline or row.heard_at <= now - UNTAKEN_AFTER:
            levers_fail(row.pk)
        else:
            _go_on(row)
    return len(rows)


def _go_on(row: LeverQuestion) -> None:
    with transaction.atomic():
        row.trials.filter(state=PlanBuildState.RUNNING).update(state=PlanBuildState.FAILED)
        levers_settle(row.pk)
        waiting = row.trials.filter(state=PlanBuildState.QUEUED)
        if row.state == PlanBuildState.QUEUED:
            _send_again(BASELINE_TASK, row.pk)
        else:
            for trial in waiting.values_list("pk", flat=True):
                _send_again(TRIAL_TASK, trial)


def _send_again(task: str, key: int) -> None:
    transaction.on_commit(
        lambda: current_app.send_task(task, args=[key], expires=_SENT_AGAIN_FOR_SECONDS), robust=True
    )
