"""Beside an import or an export: how far it is into the database, and the order to stop out of it."""

from django.db import connection
from django.utils import timezone

from planner.domain.file_tasks import StoppedError
from planner.models import FileTask
from planner.services.side_watch import SideWatch

_PERIOD_SECONDS = 0.5
_HEARTBEAT_PERIODS = 20


class FileWatch(SideWatch):
    """Twice a second reads whether to stop, and tells the rows that are done; every ten seconds it lives.

    On SQLite an import holds the only place to write until it ends, so nothing is told beside it there.
    """

    def __init__(self, task_id: int) -> None:
        super().__init__(f"file task {task_id}")
        self._task = FileTask.objects.filter(pk=task_id)
        self._rows = 0

    def row(self) -> None:
        """Count a row; StoppedError where somebody called the work off."""
        if self.stop():
            raise StoppedError
        self._rows += 1

    def _watch(self) -> None:
        told, silent = 0, 0
        while not self._over.wait(_PERIOD_SECONDS):
            if self._task.filter(cancel_requested=True).exists():
                self._stop.set()
            silent += 1
            if connection.vendor == "postgresql" and (self._rows != told or silent >= _HEARTBEAT_PERIODS):
                told, silent = self._rows, 0
                self._task.update(rows_done=told, heard_at=timezone.now())
