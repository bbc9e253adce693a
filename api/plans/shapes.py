"""Plans as they are answered, and what can be done with them."""

from typing import Any

from rest_framework import serializers

from api.base.named import Named
from planner.selectors.nouns import Plan


class PlanShape(serializers.ModelSerializer[Plan]):
    """A plan's figures; what stands in it is at `bay-plan` and `problem`."""

    made_by = Named(slug_field="username", read_only=True)
    published_by = Named(slug_field="username", read_only=True, allow_null=True)
    not_entered = serializers.ListField(
        child=serializers.DictField(), read_only=True, help_text="work that could not enter, and why"
    )

    class Meta:
        """Not the two texts."""

        model = Plan
        exclude = ("site", "problem_json", "plan_json")


class PlanPublish(serializers.Serializer[Plan]):
    """The number of the published plan that the caller last saw; null: none yet."""

    expected_number = serializers.IntegerField(min_value=1, max_value=2**31 - 1, allow_null=True)
    why = serializers.CharField(allow_blank=True, max_length=300, default="")


class JobName(serializers.Serializer[Plan]):
    """One job of the plan, such as `WO-0012`."""

    job = serializers.CharField(max_length=60)


class PlanMove(JobName):
    """A stage, with the heat block that it belongs to, at another time or place.

    `start` is in minutes after the horizon's start; `technician` takes the place of `instead_of`.
    """

    stage = serializers.CharField(max_length=60)
    start = serializers.IntegerField(min_value=0, max_value=100_000)
    heater_set = serializers.CharField(required=False, max_length=60)
    position = serializers.CharField(required=False, max_length=60)
    technician = serializers.CharField(required=False, max_length=60)
    instead_of = serializers.CharField(required=False, max_length=60)


class VerdictShape(serializers.Serializer[Any]):
    """What the checker says of a plan; no breaches: every rule is kept."""

    holds = serializers.BooleanField()
    breaches = serializers.ListField(child=serializers.CharField())


class ProblemVerdictShape(serializers.Serializer[Any]):
    """What the reader says of a bay problem without a fault."""

    sha256 = serializers.CharField()
    jobs = serializers.IntegerField()
    warnings = serializers.ListField(child=serializers.CharField())


class OddsShape(serializers.Serializer[Any]):
    """What replays say of one job: shares [1], and when half and nine tenths had it ready.

    `held` is the share in which a stage began after its planned shift, `held_at` the one that most often did.
    """

    job = serializers.CharField()
    in_time = serializers.FloatField()
    unattended = serializers.FloatField()
    held = serializers.FloatField()
    held_at = serializers.CharField(allow_blank=True)
    p50 = serializers.DateTimeField(allow_null=True)
    p90 = serializers.DateTimeField(allow_null=True)


class OddsAsked(serializers.Serializer[Any]):
    """The plan that will have its odds."""

    plan = serializers.IntegerField()


class OddsListShape(serializers.Serializer[Any]):
    """The odds of every planned job."""

    replays = serializers.IntegerField()
    measured = serializers.ListField(
        child=serializers.CharField(),
        help_text="stages that scatter as the site's own did",
    )
    jobs = OddsShape(many=True)
