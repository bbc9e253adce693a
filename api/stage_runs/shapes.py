"""Stage runs as they are answered and recorded."""

from rest_framework import serializers

from api.base.named import Named
from planner.selectors.nouns import StageRun

_LARGEST_ROW = 999_999_999


class StageRunShape(serializers.ModelSerializer[StageRun]):
    """A stage as it was done; people, place and set by their codes."""

    work_order = Named(slug_field="number", read_only=True)
    technicians = Named(slug_field="code", many=True, read_only=True)
    position = Named(slug_field="code", read_only=True, allow_null=True)
    heater_set = Named(slug_field="code", read_only=True, allow_null=True)

    class Meta:
        """All but its site."""

        model = StageRun
        exclude = ("site",)


class StageRunSearch(serializers.Serializer[StageRun]):
    """Which runs; all unless an order's number is given."""

    work_order = serializers.IntegerField(required=False, min_value=1, max_value=_LARGEST_ROW)


class StageRunStart(serializers.Serializer[StageRun]):
    """A stage that begins: the injury, the stage's name, and people, position and set by their codes."""

    tyre = serializers.IntegerField(min_value=1, max_value=_LARGEST_ROW)
    damage = serializers.IntegerField(min_value=1, max_value=_LARGEST_ROW)
    stage = serializers.CharField(max_length=60)
    technicians = serializers.ListField(
        child=serializers.SlugField(max_length=40), max_length=20, default=list
    )
    position = serializers.SlugField(required=False, max_length=40)
    heater_set = serializers.SlugField(required=False, max_length=40)
    started_at = serializers.DateTimeField(required=False)
    note = serializers.CharField(allow_blank=True, max_length=300, default="")


class StageRunFinish(serializers.Serializer[StageRun]):
    """The end of a stage: now, unless a time is given."""

    ended_at = serializers.DateTimeField(required=False)
    note = serializers.CharField(allow_blank=True, max_length=300, default="")
