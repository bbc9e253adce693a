"""A logger's file as it is sent, and as it is judged before it is kept."""

from typing import Any

from rest_framework import serializers

from api.base.files import FileField
from planner.selectors.nouns import CureLogUpload
from planner.services.cure_log_uploads import TIME_KINDS, upload_column_names

_ZONE = "of the logger's clock, such as Australia/Perth; empty where its clock never changes"


class ColumnsShape(serializers.Serializer[Any]):
    """Which column is what, and in which unit; no pressure column: it was not logged.

    Of two bags the lower pressure counts. A date column is for times without a date of their own.
    """

    time = serializers.CharField(max_length=200)
    date = serializers.CharField(max_length=200, required=False, allow_blank=True, allow_null=True)
    time_kind = serializers.ChoiceField(choices=TIME_KINDS)
    time_zone = serializers.CharField(
        max_length=64, required=False, allow_blank=True, allow_null=True, help_text=_ZONE
    )
    inside = serializers.CharField(max_length=200)
    outside = serializers.CharField(max_length=200)
    temperature_unit = serializers.ChoiceField(choices=("celsius", "fahrenheit"))
    pressure = serializers.CharField(max_length=200, required=False, allow_blank=True)
    pressure_2 = serializers.CharField(max_length=200, required=False, allow_blank=True)
    pressure_unit = serializers.ChoiceField(choices=("kpa", "psi", "bar"))


class UploadShape(serializers.Serializer[Any]):
    """A file that was put aside; `judgement` is null, and `fault` says why, where its columns do not fit."""

    id = serializers.IntegerField()
    file_name = serializers.CharField()
    logger = serializers.CharField()
    heater_set = serializers.CharField(source="heater_set.code", allow_null=True, default=None)
    column_names = serializers.SerializerMethodField()
    columns = serializers.DictField()
    judgement = serializers.DictField(allow_null=True)
    fault = serializers.CharField(allow_blank=True)

    def get_column_names(self, upload: CureLogUpload) -> list[str]:
        """The names that the file gives its columns."""
        return upload_column_names(upload=upload)


class UploadSend(serializers.Serializer[Any]):
    """A logger's file (CSV or XLSX); the columns are those remembered of the logger, else guessed."""

    file_name = serializers.CharField(max_length=200)
    content = FileField()
    logger = serializers.CharField(max_length=60, required=False, allow_blank=True)
    heater_set = serializers.SlugField(max_length=40, required=False)


class JudgeSend(serializers.Serializer[Any]):
    """The heater set whose limits the readings are held against, where the stages do not tell it."""

    heater_set = serializers.SlugField(max_length=40, required=False)


class ReadingsSend(JudgeSend):
    """Readings as somebody wrote them down: a line each of minute, inside °C, outside °C, pressure kPa."""

    readings = serializers.CharField(max_length=200_000)
