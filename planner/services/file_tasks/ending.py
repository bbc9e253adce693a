"""How a file task ends that no worker ends: lost with the queue, or its worker dead."""

from datetime import timedelta

from django.db import connection
from django.utils import timezone

from planner.domain.sentences import Sentence, _
from planner.domain.states import PLAN_BUILD_STATES, PlanBuildState
from planner.models import FileTask
from planner.services.file_tasks.asking import OPEN, file_task_send

SILENT_AFTER = timedelta(minutes=2)
UNTAKEN_AFTER = timedelta(minutes=15)
_SENT_AGAIN_FOR_SECONDS = 55
_DIED = _("The worker stopped in the middle. Nothing of the file was kept: start it again.")
_UNTAKEN = _("No worker took it up. See that a worker is running, and start it again.")


def file_task_fail(*, task_id: int, message: Sentence) -> bool:
    """End it as failed with a message for the user; False where it had ended already."""
    failed = PLAN_BUILD_STATES.after(PlanBuildState.RUNNING, "fail")
    rows = FileTask.objects.filter(pk=task_id, state__in=OPEN)
    return bool(rows.update(state=failed, message=message, ended_at=timezone.now()))


def file_tasks_resume(*, silent_for: timedelta = SILENT_AFTER) -> int:
    """End what a dead worker held, and send again what waits and may be lost with the queue; how many.

    Work and its end are one transaction, so of what was held nothing stands. Call it with no time at all
    (`timedelta(0)`) where a start of the only worker shows that nothing can be running.
    """
    now = timezone.now()
    # On SQLite nobody can tell beside an import that it goes on: only the start of its worker ends it.
    is_told = connection.vendor == "postgresql" or not silent_for
    silent = FileTask.objects.filter(heard_at__lte=now - silent_for)
    died = silent.filter(state=PlanBuildState.RUNNING) if is_told else FileTask.objects.none()
    ended = [file_task_fail(task_id=pk, message=_DIED) for pk in died.values_list("pk", flat=True)]
    waiting = silent.filter(state=PlanBuildState.QUEUED)
    untaken = waiting.filter(asked_at__lte=now - UNTAKEN_AFTER).values_list("pk", flat=True)
    ended += [file_task_fail(task_id=pk, message=_UNTAKEN) for pk in untaken]
    again = list(waiting.filter(asked_at__gt=now - UNTAKEN_AFTER).values_list("pk", flat=True))
    for pk in again:
        file_task_send(pk, expires=_SENT_AGAIN_FOR_SECONDS)
    return sum(ended) + len(again)
