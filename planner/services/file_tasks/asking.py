"""Asking a worker to read a file in or to write one out, and calling it off."""

from collections.abc import Mapping
from typing import Any

from celery import current_app
from django.db import transaction
from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.file_tasks import FileTaskKind
from planner.domain.sentences import _
from planner.domain.states import PLAN_BUILD_STATES, PlanBuildState
from planner.models import FileTask, Site, User
from planner.selectors.access import require_on_site
from planner.services.file_tasks.work import WORKS
from planner.services.imports.table import refuse_large
from planner.services.rows import row_add

FILE_TASK = "planner.tasks.file_task"
LARGE_BYTES = 100_000
"""From this size on a page hands a file to a worker: some thousand rows, ten seconds or more of a request."""
OPEN = (PlanBuildState.QUEUED, PlanBuildState.RUNNING)
MOST_OPEN = 5


def is_large(raw: bytes) -> bool:
    """Whether a page should leave the file to a worker."""
    return len(raw) > LARGE_BYTES


def file_task_ask(
    *,
    user: User,
    site: Site,
    kind: FileTaskKind,
    name: str = "",
    raw: bytes = b"",
    options: Mapping[str, Any] | None = None,
) -> FileTask:
    """Queue the work, once the change that asks for it is committed.

    Raises InvalidValueError where the file is too large or an option is none of the kind's, ConflictError
    while too much is in hand.
    """
    require_on_site(user=user, site=site, action=kind.action)
    told = dict(options or {})
    strange = sorted(set(told) - WORKS[kind].options)
    if strange:
        raise InvalidValueError(
            _("{strange}: there is no such option of {kind}", strange=tuple(strange), kind=kind)
        )
    refuse_large(raw)
    with transaction.atomic():
        if FileTask.objects.filter(site=site, state__in=OPEN).count() >= MOST_OPEN:
            raise ConflictError(
                _(
                    "{most_open} imports and exports of this site are in hand: wait for one of them",
                    most_open=MOST_OPEN,
                )
            )
        row = FileTask(
            site=site, kind=kind, asked_by=user, asked_at=timezone.now(), file_name=name[:200], file_raw=raw,
            options=told,
        )  # fmt: skip
        row_add(user=user, site=site, row=row, action="file_task_ask")
        file_task_send(row.pk)
    return row


def file_task_keep(*, user: User, task: FileTask, accepted: bool = False) -> FileTask:
    """Import the very file that a worker has tried, as somebody who saw what it would do wants it."""
    require_on_site(user=user, site=task.site, action=FileTaskKind(task.kind).action)
    if task.state != PlanBuildState.DONE or task.options.get("keep") is not False:
        raise ConflictError(_("that file was not tried, or not to its end: try it first"))
    options = {**task.options, "keep": True}
    if task.kind == FileTaskKind.SITE_IMPORT:
        options["accepted"] = accepted
    return file_task_ask(
        user=user, site=task.site, kind=FileTaskKind(task.kind), name=task.file_name,
        raw=bytes(task.file_raw), options=options,
    )  # fmt: skip


def file_task_cancel(*, user: User, task: FileTask) -> None:
    """Call it off: what waits ends at once, what runs with its next row, and then nothing of it stays.

    No audit event: nothing was changed.
    """
    require_on_site(user=user, site=task.site, action=FileTaskKind(task.kind).action)
    if task.state not in OPEN:
        raise ConflictError(_("{task} is over already: it can't be called off any more", task=task))
    rows = FileTask.objects.filter(pk=task.pk)
    rows.filter(state=PlanBuildState.QUEUED).update(
        state=PLAN_BUILD_STATES.after(PlanBuildState.QUEUED, "cancel"), ended_at=timezone.now()
    )
    rows.update(cancel_requested=True)


def file_task_send(task_id: int, **options: Any) -> None:
    """Put it on the queue, once all of it is committed."""
    transaction.on_commit(lambda: current_app.send_task(FILE_TASK, args=[task_id], **options), robust=True)
