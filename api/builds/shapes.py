"""Plan builds as they are answered and asked for."""

from rest_framework import serializers

from api.base.named import Named
from planner.selectors.nouns import PlanBuild


class BuildShape(serializers.ModelSerializer[PlanBuild]):
    """A build with its progress; `plan` is the draft that came of it."""

    requested_by = Named(slug_field="username", read_only=True)
    plan = serializers.SerializerMethodField()
    curve = serializers.ListField(read_only=True, help_text="[seconds, lateness, bound] as they came")

    class Meta:
        """All but its site."""

        model = PlanBuild
        exclude = ("site",)

    def get_plan(self, build: PlanBuild) -> int | None:
        """The id of the draft; null before it is there."""
        plan = getattr(build, "plan", None)
        return None if plan is None else int(plan.pk)


class BuildStart(serializers.Serializer[PlanBuild]):
    """The days to plan and how long the worker may think [s]."""

    start = serializers.DateTimeField()
    end = serializers.DateTimeField()
    seconds = serializers.IntegerField(min_value=1, max_value=3600, default=30)
    seed = serializers.IntegerField(min_value=0, max_value=2**31 - 1, default=0)
    stability = serializers.IntegerField(
        min_value=0, max_value=100, required=False, allow_null=True,
        help_text="keeps of the published plan what it can: what a moved minute costs [late min/100]",
    )  # fmt: skip


class Why(serializers.Serializer[PlanBuild]):
    """A reason for the record."""

    why = serializers.CharField(allow_blank=True, max_length=300, default="")
