"""Imports and exports as work of the queue: asked for, watched, called off, fetched."""

from typing import Any, ClassVar

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.files import file_response
from api.base.views import SiteView, found
from api.file_tasks.shapes import BooksFileSend, FileTaskShape, RepairsFileAsk, SiteFileSend
from planner.domain.errors import NotFoundError
from planner.domain.file_tasks import FileTaskKind
from planner.domain.permissions import Action
from planner.selectors.file_tasks import file_task_list
from planner.selectors.nouns import ApiToken, FileTask
from planner.services.file_tasks.asking import file_task_ask, file_task_cancel


class FileTaskView(SiteView):
    """What needs tasks that its caller may see."""

    def rows(self) -> Any:
        """The tasks of the kinds that the caller may ask for; by a token, within its bounds."""
        rows, token = file_task_list(user=self.user, site=self.site), self.request.auth
        if isinstance(token, ApiToken):
            rows = rows.filter(kind__in=[kind for kind in FileTaskKind if kind.action in token.actions])
        return rows

    def task_of(self, task: int) -> FileTask:
        """The one with this number; NotFoundError else."""
        row: FileTask = found(self.rows(), pk=task)
        return row


class FileTasks(FileTaskView):
    """The tasks of a site."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="file_task_list", responses=FileTaskShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """Those of the last week, the newest first; only of kinds that you may ask for."""
        return self.page(self.rows(), FileTaskShape)


class OneFileTask(FileTaskView):
    """One task."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="file_task_get", responses=FileTaskShape)
    def get(self, request: Request, site: str, task: int) -> Response:
        """How far it is, and what came of it; ask again with If-None-Match to watch it."""
        return self.one(self.task_of(task), FileTaskShape)


class FileTaskCancel(FileTaskView):
    """The end of one task before its time."""

    actions = {"POST": Action.SITE_READ}

    @extend_schema(operation_id="file_task_cancel", request=None, responses=FileTaskShape)
    def post(self, request: Request, site: str, task: int) -> Response:
        """Call it off; nothing of it stays. It moves by itself, so no If-Match is asked for."""
        file_task_cancel(user=self.user, task=self.task_of(task))
        return self.one(self.task_of(task), FileTaskShape)


class FileTaskResult(FileTaskView):
    """The file that an export wrote."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(
        operation_id="file_task_result", responses={(200, "application/octet-stream"): OpenApiTypes.BINARY}
    )
    def get(self, request: Request, site: str, task: int) -> HttpResponse:
        """The bytes, once it is done."""
        row = self.task_of(task)
        if not row.result_name:
            raise NotFoundError(f"{row} has no file: it is {row.state}")
        return file_response(bytes(row.result_raw), name=row.result_name, kind="application/octet-stream")


class FileTaskAsk(SiteView):
    """The asking for one kind of task."""

    created = frozenset({"POST"})
    kind: ClassVar[FileTaskKind]
    shape: ClassVar[type[serializers.Serializer[Any]]]

    def post(self, request: Request, site: str) -> Response:
        """Queue it; a worker takes it up."""
        return self.once(self._asked)

    def _asked(self) -> Response:
        told = self.sent(self.shape)
        name, raw = told.pop("name", ""), told.pop("content", b"")
        row = file_task_ask(user=self.user, site=self.site, kind=self.kind, name=name, raw=raw, options=told)
        return self.one(row, FileTaskShape, status=201)


class Nothing(serializers.Serializer[Any]):
    """Nothing is asked."""


@extend_schema_view(
    post=extend_schema(operation_id="books_import_ask", request=BooksFileSend, responses={201: FileTaskShape})
)
class BooksImportTasks(FileTaskAsk):
    """Large files of the books."""

    actions = {"POST": Action.MONEY_CHANGE}
    kind, shape = FileTaskKind.BOOKS_IMPORT, BooksFileSend


@extend_schema_view(
    post=extend_schema(operation_id="site_import_ask", request=SiteFileSend, responses={201: FileTaskShape})
)
class SiteImportTasks(FileTaskAsk):
    """A site's workbook."""

    actions = {"POST": Action.SITE_CHANGE}
    kind, shape = FileTaskKind.SITE_IMPORT, SiteFileSend


@extend_schema_view(
    post=extend_schema(operation_id="site_export_ask", request=None, responses={201: FileTaskShape})
)
class SiteExportTasks(FileTaskAsk):
    """All that an administrator keeps, as a workbook."""

    actions = {"POST": Action.SITE_CHANGE}
    kind, shape = FileTaskKind.SITE_EXPORT, Nothing


@extend_schema_view(
    post=extend_schema(
        operation_id="repairs_export_ask", request=RepairsFileAsk, responses={201: FileTaskShape}
    )
)
class RepairsExportTasks(FileTaskAsk):
    """The booked repairs, however many."""

    actions = {"POST": Action.MONEY_READ}
    kind, shape = FileTaskKind.REPAIRS_EXPORT, RepairsFileAsk
