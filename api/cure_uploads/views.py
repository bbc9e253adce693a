"""Uploading a logger's file, looking at its verdict, keeping it or putting it away."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from api.cure_uploads.shapes import ColumnsShape, JudgeSend, ReadingsSend, UploadSend, UploadShape
from api.cures.views import LoggedCureShape
from api.tyres.damage import damages_of
from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.nouns import CureLogUpload
from planner.selectors.resources import heater_set_list
from planner.services import cure_log_uploads as services
from planner.services.cure_hand_logs import cure_readings_judge, cure_readings_upload


class UploadView(SiteView):
    """What every view of an upload needs."""

    def set_of(self, values: dict[str, Any]) -> dict[str, Any]:
        """The values with the heater set in place of its code."""
        if "heater_set" in values:
            sets = heater_set_list(user=self.user, site=self.site)
            values["heater_set"] = found(sets, code=values["heater_set"])
        return values

    def upload_of(self, upload: int) -> CureLogUpload:
        """A file that was put aside, judged by its columns as they are set."""
        row = services.cure_log_upload_get(user=self.user, site=self.site, upload_id=upload)
        return self.looked(row)

    def looked(self, row: CureLogUpload) -> CureLogUpload:
        """The file with what its judgement says, or why it has none."""
        told: Any = row
        told.judgement, told.fault = None, ""
        try:
            told.judgement = services.upload_look(upload=row)[0]
        except InvalidValueError as fault:
            told.fault = str(fault)
        return row


class CureUploads(UploadView):
    """Files of an injury's cure."""

    actions = {"POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="cure_log_upload", request=UploadSend, responses={201: UploadShape})
    def post(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """Put a logger's file aside to look at; it goes after a day where nobody keeps it."""
        return self.once(lambda: self._uploaded(tyre, damage))

    def _uploaded(self, tyre: int, damage: int) -> Response:
        injury = found(damages_of(self, tyre), pk=damage)
        values = self.set_of(self.sent(UploadSend))
        row = services.cure_log_upload_add(
            user=self.user,
            damage=injury,
            raw=values.pop("content"),
            name=values.pop("file_name"),
            **values,
        )
        return self.one(self.looked(row), UploadShape, status=201)


class CureReadings(UploadView):
    """Readings of an injury's cure that were written down."""

    actions = {"POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="cure_readings_upload", request=ReadingsSend, responses={201: UploadShape})
    def post(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """Put typed readings aside to look at."""
        return self.once(lambda: self._uploaded(tyre, damage))

    def _uploaded(self, tyre: int, damage: int) -> Response:
        injury = found(damages_of(self, tyre), pk=damage)
        values = self.set_of(self.sent(ReadingsSend))
        row = cure_readings_upload(user=self.user, damage=injury, **values)
        return self.one(self.looked(row), UploadShape, status=201)


class GaugeReadingsJudged(UploadView):
    """Readings of an injury's cure that were recorded one by one."""

    actions = {"POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="gauge_readings_judge", request=JudgeSend, responses={201: UploadShape})
    def post(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """Put those that hold aside to look at as a log, each with who took it."""
        return self.once(lambda: self._judged(tyre, damage))

    def _judged(self, tyre: int, damage: int) -> Response:
        injury = found(damages_of(self, tyre), pk=damage)
        row = cure_readings_judge(user=self.user, damage=injury, **self.set_of(self.sent(JudgeSend)))
        return self.one(self.looked(row), UploadShape, status=201)


class OneCureUpload(UploadView):
    """One file that was put aside."""

    actions = {"GET": Action.WORK_RECORD, "PATCH": Action.WORK_RECORD, "DELETE": Action.WORK_RECORD}

    @extend_schema(operation_id="cure_log_upload_get", responses=UploadShape)
    def get(self, request: Request, site: str, upload: int) -> Response:
        """The file's columns and what it would be judged; nothing is kept yet."""
        return self.one(self.upload_of(upload), UploadShape)

    @extend_schema(operation_id="cure_log_upload_columns", request=ColumnsShape, responses=UploadShape)
    def patch(self, request: Request, site: str, upload: int) -> Response:
        """Say which column is what, and have it judged again."""
        row = self.upload_of(upload)
        self.refuse_unmatched(row, UploadShape)
        services.upload_columns_set(upload=row, columns=services.columns_of(self.sent(ColumnsShape)))
        return self.one(self.looked(row), UploadShape)

    @extend_schema(operation_id="cure_log_upload_put_away", responses={204: None})
    def delete(self, request: Request, site: str, upload: int) -> Response:
        """Forget the file."""
        row = self.upload_of(upload)
        self.refuse_unmatched(row, UploadShape)
        services.upload_put_away(user=self.user, upload=row)
        return Response(status=204)


class CureUploadKeep(UploadView):
    """The keeping of one file."""

    actions = {"POST": Action.WORK_RECORD}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="cure_log_upload_keep", request=None, responses={201: LoggedCureShape})
    def post(self, request: Request, site: str, upload: int) -> Response:
        """Import the bytes that were looked at, with their verdict. Nothing is released: a person decides."""
        row = self.upload_of(upload)
        self.refuse_unmatched(row, UploadShape)
        return self.one(services.upload_keep(user=self.user, upload=row), LoggedCureShape, status=201)
