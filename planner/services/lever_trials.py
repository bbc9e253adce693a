"""The work behind a question of levers: the bay as it is first, then each lever by itself."""

from dataclasses import replace

from celery import current_app, group
from django.db import transaction
from django.utils import timezone

from planner.domain.states import PLAN_BUILD_STATES, PlanBuildState
from planner.models import LeverQuestion, LeverTrialRow
from planner.scheduling.plan_format import plan_read, plan_write
from planner.scheduling.score import score
from planner.selectors.plans import plan_content_get
from planner.services.lever_endings import TRIAL_TASK, levers_fail, levers_settle
from planner.services.lever_watch import LeverWatch
from planner.solver.levers import LeverTrial, baseline_solve, lever_named, lever_try
from planner.solver.limits import SolveLimits


def lever_baseline_run(*, question_id: int) -> None:
    """Search the unchanged bay as long as each lever will be, then queue the levers; safe to run twice."""
    queued = LeverQuestion.objects.filter(pk=question_id, state=PlanBuildState.QUEUED)
    running = PLAN_BUILD_STATES.after(PlanBuildState.QUEUED, "run")
    if not queued.update(state=running, heard_at=timezone.now()):
        return
    question = LeverQuestion.objects.select_related("plan").get(pk=question_id)
    try:
        baseline = _baseline(question)
    except Exception:
        levers_fail(question_id)
        raise
    with transaction.atomic():
        question.baseline_json, question.heard_at = baseline, timezone.now()
        question.save(update_fields=["baseline_json", "heard_at"])
        waiting = list(question.trials.filter(state=PlanBuildState.QUEUED).values_list("pk", flat=True))
        trials = group(current_app.signature(TRIAL_TASK, args=[pk]) for pk in waiting)
        transaction.on_commit(trials.apply_async, robust=True)


def _baseline(question: LeverQuestion) -> str:
    """The plan of the bay as it is, written down."""
    content = plan_content_get(plan=question.plan)
    with LeverWatch(question.pk) as watch:
        found = baseline_solve(
            content.problem, content.plan.schedule, limits=_limits(question), stop=watch.stop
        )
    plan = replace(content.plan, schedule=found, score=score(content.problem, found.jobs))
    return plan_write(plan, content.problem).decode()


def lever_trial_run(*, trial_id: int) -> None:
    """Pull one lever and store what it buys; safe to run twice."""
    queued = LeverTrialRow.objects.filter(pk=trial_id, state=PlanBuildState.QUEUED)
    if not queued.update(state=PLAN_BUILD_STATES.after(PlanBuildState.QUEUED, "run")):
        return
    row = LeverTrialRow.objects.select_related("question__plan").get(pk=trial_id)
    LeverQuestion.objects.filter(pk=row.question_id).update(heard_at=timezone.now())
    try:
        told = _tried(row)
    except Exception:
        _ended(row, "fail")
        raise
    _ended(row, "cancel" if _is_cancelled(row.question_id) else "finish", told)


def _tried(row: LeverTrialRow) -> LeverTrial:
    question = row.question
    content = plan_content_get(plan=question.plan)
    baseline = plan_read(question.baseline_json.encode(), content.problem).schedule
    with LeverWatch(question.pk) as watch:
        return lever_try(
            content.problem, content.plan.schedule, lever_named(content.problem, row.lever),
            baseline=baseline, limits=_limits(question), stop=watch.stop,
        )  # fmt: skip


def _ended(row: LeverTrialRow, move: str, told: LeverTrial | None = None) -> None:
    """Store the end of a trial; one that was cancelled found less than it could have, so it says nothing."""
    with transaction.atomic():
        row.state = PLAN_BUILD_STATES.after(row.state, move)
        if told is not None and move == "finish":
            row.lateness, row.tyres_in_time = told.lateness, told.tyres_in_time
            row.lateness_gain, row.tyres_gain = told.lateness_gain, told.tyres_gain
            row.gap, row.within_noise = told.gap, told.within_noise
        row.save()
        levers_settle(row.question_id)


def _limits(question: LeverQuestion) -> SolveLimits:
    # One worker each: the levers run side by side, as many as the queue has workers. Work and never time ends
    # a search: what a busy machine does to one of them must not look like a gain of another.
    return SolveLimits(work=float(question.seconds), workers=1)


def _is_cancelled(question_id: int) -> bool:
    return LeverQuestion.objects.filter(pk=question_id, cancel_requested=True).exists()
