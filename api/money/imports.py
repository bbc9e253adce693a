"""Importing prices and the like: first what a file would do, then all of it."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.files import FileField
from api.base.views import SiteView
from planner.domain.permissions import Action
from planner.services.accounts.imports.importing import ImportPreview, import_apply, import_preview
from planner.services.accounts.imports.kinds import IMPORT_KINDS


class ImportSend(serializers.Serializer[Any]):
    """A file (CSV in UTF-8, or XLSX) and what it holds."""

    kind = serializers.ChoiceField(choices=list(IMPORT_KINDS))
    name = serializers.CharField(max_length=200)
    content = FileField()


class ImportApply(ImportSend):
    """The file with a reason for the record."""

    why = serializers.CharField(allow_blank=True, max_length=300, default="")


class CellFaultShape(serializers.Serializer[Any]):
    """What is wrong with one cell; no column: the whole row."""

    row = serializers.IntegerField()
    column = serializers.CharField(allow_blank=True)
    message = serializers.CharField()


class ImportShape(serializers.Serializer[Any]):
    """How many rows are added, changed and left as they are; with any fault, nothing is imported."""

    kind = serializers.CharField()
    sha256 = serializers.CharField()
    added = serializers.IntegerField()
    changed = serializers.IntegerField()
    unchanged = serializers.IntegerField()
    faults = CellFaultShape(many=True)
    notes = CellFaultShape(many=True, help_text="what may be meant but rarely is; it stops nothing")


class ImportPreviews(SiteView):
    """What a file would do."""

    actions = {"POST": Action.MONEY_CHANGE}

    @extend_schema(operation_id="import_preview", request=ImportSend, responses=ImportShape)
    def post(self, request: Request, site: str) -> Response:
        """Read the file and name every fault; nothing is stored."""
        preview = import_preview(user=self.user, site=self.site, **_file(self.sent(ImportSend)))
        return self.one(_counted(preview), ImportShape)


class Imports(SiteView):
    """Files carried out."""

    actions = {"POST": Action.MONEY_CHANGE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="import_apply", request=ImportApply, responses={201: ImportShape})
    def post(self, request: Request, site: str) -> Response:
        """Import the whole file, or nothing of it; the same file again changes nothing."""
        return self.once(self._applied)

    def _applied(self) -> Response:
        done = import_apply(user=self.user, site=self.site, **_file(self.sent(ImportApply)))
        return self.one(_counted(done), ImportShape, status=201)


def _counted(preview: ImportPreview) -> dict[str, Any]:
    return {
        "kind": preview.kind.name,
        "sha256": preview.sha256,
        "added": len(preview.added),
        "changed": len(preview.changed),
        "unchanged": preview.unchanged,
        "faults": preview.faults,
        "notes": preview.notes,
    }


def _file(told: dict[str, Any]) -> dict[str, Any]:
    raw = told.pop("content")
    return {**told, "raw": raw}
