"""The Celery application: tasks are named in `planner.tasks` and queued by name."""

import os
import time
from typing import Any

from celery import Celery, Task
from celery.signals import before_task_publish, setup_logging, task_postrun, task_prerun

from planner.config.log_format import REQUEST_ID, TASK_ID
from planner.config.task_counts import task_count

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.config.settings.embedded")

app = Celery("tyrewright")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(["planner"])
_started: dict[str, float] = {}


@setup_logging.connect
def _keep_our_logging(**_: Any) -> None:
    """Celery sets up no logging of its own when somebody listens here: Django's settings stand."""


@before_task_publish.connect
def _send_request_id(headers: dict[str, Any], **_: Any) -> None:
    """The request that queued a task stays findable in the task's log lines."""
    headers["request_id"] = REQUEST_ID.get()


@task_prerun.connect
def _task_begins(task_id: str, task: Task[Any, Any], **_: Any) -> None:
    TASK_ID.set(task_id)
    REQUEST_ID.set(task.request.get("request_id"))
    _started[task_id] = time.monotonic()


@task_postrun.connect
def _task_ends(task_id: str, task: Task[Any, Any], state: str | None = None, **_: Any) -> None:
    seconds = time.monotonic() - _started.pop(task_id, time.monotonic())
    task_count(task=task.name, outcome=(state or "unknown").lower(), seconds=seconds)
    TASK_ID.set(None)
    REQUEST_ID.set(None)
