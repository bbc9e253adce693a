"""File tasks as they are answered and asked for."""

from typing import Any

from rest_framework import serializers

from api.base.files import FileField
from api.base.named import Named
from planner.selectors.nouns import FileTask
from planner.services.accounts.imports.kinds import IMPORT_KINDS


class FileTaskShape(serializers.ModelSerializer[FileTask]):
    """A file's way in or out. `told` holds an import's figures and faults; `message` is why it failed."""

    asked_by = Named(slug_field="username", read_only=True)
    state = serializers.CharField(help_text="queued, running, done, cancelled or failed")
    options = serializers.DictField()
    told = serializers.DictField()

    class Meta:
        """All but the files themselves."""

        model = FileTask
        fields = (
            "id", "kind", "state", "asked_by", "asked_at", "ended_at", "cancel_requested", "file_name",
            "options", "rows_done", "told", "message", "result_name",
        )  # fmt: skip


class FileSend(serializers.Serializer[Any]):
    """A file (CSV in UTF-8, or XLSX). Without `keep` it is tried to its end, and nothing of it is kept."""

    name = serializers.CharField(max_length=200)
    content = FileField()
    keep = serializers.BooleanField(default=False)


class BooksFileSend(FileSend):
    """A file of the books, and which of them it holds."""

    holds = serializers.ChoiceField(choices=list(IMPORT_KINDS))
    why = serializers.CharField(allow_blank=True, max_length=300, default="")


class SiteFileSend(FileSend):
    """A site's workbook, or one sheet of it as CSV; `accepted`: kept though it breaks the plan."""

    sheet = serializers.CharField(max_length=80, allow_blank=True, default="")
    accepted = serializers.BooleanField(default=False)


class RepairsFileAsk(serializers.Serializer[Any]):
    """Which repairs are written, and how; without a month, all of them."""

    form = serializers.ChoiceField(choices=("csv", "xlsx"), default="xlsx")
    month = serializers.RegexField(r"^20[0-9]{2}-(0[1-9]|1[0-2])$", required=False)
