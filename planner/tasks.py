"""Celery tasks: ids in, a service called, safe to run twice."""

from celery import shared_task
from django.conf import settings

from planner.services.file_tasks.running import file_task_run
from planner.services.lever_trials import lever_baseline_run, lever_trial_run
from planner.services.lost_work import lost_work_resume
from planner.services.notice_mail import notice_mail
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_reap
from planner.services.plan_replay_run import plan_replay_run
from planner.services.promise_notices import promise_notices_tell
from planner.services.retention import Retention, retention_apply
from planner.services.tyre_alarms import tyre_alarms_watch
from planner.services.webhook_delivery import delivery_run, webhook_sweep


@shared_task(name="planner.tasks.build_plan")
def build_plan(build_id: int) -> None:
    """Build the plan that was asked for."""
    plan_build_run(build_id=build_id)


@shared_task(name="planner.tasks.reap_builds", ignore_result=True)
def reap_builds() -> None:
    """End builds whose worker died, or that nobody took up; each minute by the clock of `beat`."""
    plan_build_reap()


@shared_task(name="planner.tasks.resume_work", ignore_result=True)
def resume_work() -> None:
    """Go on with what was lost with its worker or the queue; each minute by the clock of `beat`."""
    lost_work_resume()


@shared_task(name="planner.tasks.file_task")
def file_task(task_id: int) -> None:
    """Read a file in, or write one out."""
    file_task_run(task_id=task_id)


@shared_task(name="planner.tasks.replay_plan")
def replay_plan(plan_id: int, part: int = 0, parts: int = 1) -> None:
    """Replay one part of the plan's replays; the last of them tells the odds of each tyre."""
    plan_replay_run(plan_id=plan_id, part=part, parts=parts)


@shared_task(name="planner.tasks.lever_baseline")
def lever_baseline(question_id: int) -> None:
    """Search the bay as it is, then queue every lever."""
    lever_baseline_run(question_id=question_id)


@shared_task(name="planner.tasks.lever_trial")
def lever_trial(trial_id: int) -> None:
    """Try one lever."""
    lever_trial_run(trial_id=trial_id)


@shared_task(name="planner.tasks.deliver_webhook", ignore_result=True)
def deliver_webhook(delivery_id: int) -> None:
    """Send one event to one receiver."""
    delivery_run(delivery_id=delivery_id)


@shared_task(name="planner.tasks.sweep_webhooks", ignore_result=True)
def sweep_webhooks() -> None:
    """Send what is due and was lost on the way; each minute by the clock of `beat`."""
    webhook_sweep()


@shared_task(name="planner.tasks.watch_alarms", ignore_result=True)
def watch_alarms() -> None:
    """Tell of hot tyres that nobody attends; each half minute by the clock of `beat`."""
    tyre_alarms_watch()


@shared_task(name="planner.tasks.tell_promises")
def tell_promises(plan_id: int) -> None:
    """Tell followers what the published plan promises otherwise."""
    promise_notices_tell(plan_id=plan_id)


# A mail server that does not answer is asked again, up to half an hour later.
@shared_task(name="planner.tasks.mail_notice", autoretry_for=(OSError,), retry_backoff=60, max_retries=5)
def mail_notice(notice_id: int) -> None:
    """Send one notice by e-mail."""
    notice_mail(notice_id=notice_id)


@shared_task(name="planner.tasks.apply_retention", ignore_result=True)
def apply_retention() -> None:
    """Remove what has served its time; each night by the clock of `beat`."""
    retention_apply(keep=Retention(**settings.RETENTION))
