"""The work of a file task, called by the worker: all of it with its end in one transaction, or nothing."""

import logging

from django.db import OperationalError, transaction
from django.utils import timezone

from planner.domain.errors import UserError
from planner.domain.file_tasks import FileTaskKind, StoppedError
from planner.domain.sentences import _, sentence_of
from planner.domain.states import PLAN_BUILD_STATES, PlanBuildState
from planner.models import FileTask
from planner.services.file_tasks.ending import file_task_fail
from planner.services.file_tasks.watch import FileWatch
from planner.services.file_tasks.work import WORKS, FileOutcome

_log = logging.getLogger(__name__)
_FAILED = _("The worker failed. The fault is in the server's log.")
_CLASHED = _(
    "Somebody changed the same rows at the same moment, or the database was away."
    " Nothing of the file was kept: start it again."
)


def file_task_run(*, task_id: int) -> None:
    """Do what was asked; safe to run twice: only the first run takes it up.

    A fault of the file ends it with its message; any other fault ends it too, and is raised.
    """
    task = _taken_up(task_id)
    if task is None:
        return
    try:
        with FileWatch(task.pk) as watch, transaction.atomic():
            outcome = WORKS[FileTaskKind(task.kind)].do(task, watch.row)
            _end(task.pk, outcome)
    except StoppedError:
        _cancelled(task_id)
    except UserError as fault:
        file_task_fail(task_id=task_id, message=sentence_of(fault))
    except Exception as fault:
        _log.exception("file task %s failed", task_id)
        file_task_fail(task_id=task_id, message=_CLASHED if isinstance(fault, OperationalError) else _FAILED)
        raise


def _taken_up(task_id: int) -> FileTask | None:
    """Count it as running, unless somebody else did or it was called off."""
    queued = FileTask.objects.filter(pk=task_id, state=PlanBuildState.QUEUED)
    running = PLAN_BUILD_STATES.after(PlanBuildState.QUEUED, "run")
    if not queued.update(state=running, heard_at=timezone.now()):
        return None
    return FileTask.objects.select_related("site", "asked_by").get(pk=task_id)


def _end(task_id: int, outcome: FileOutcome) -> None:
    """Keep what came of it; StoppedError, which takes all of it back, where it was ended meanwhile."""
    row = FileTask.objects.select_for_update().get(pk=task_id)
    if row.cancel_requested or not PLAN_BUILD_STATES.allows(row.state, "finish"):
        raise StoppedError
    row.state, row.ended_at = PLAN_BUILD_STATES.after(row.state, "finish"), timezone.now()
    row.told, row.result_name, row.result_raw = dict(outcome.told), outcome.name, outcome.raw
    row.save(update_fields=["state", "ended_at", "told", "result_name", "result_raw"])


def _cancelled(task_id: int) -> None:
    running = FileTask.objects.filter(pk=task_id, state=PlanBuildState.RUNNING)
    running.update(state=PLAN_BUILD_STATES.after(PlanBuildState.RUNNING, "cancel"), ended_at=timezone.now())
