"""Shifts: those that meet a stretch of time, and the roster put on the calendar."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.broken_plan import BrokenPlan
from api.base.views import SiteView
from planner.domain.permissions import Action
from planner.selectors.resources import shift_list
from planner.services.site_tables.changing import roster_put

_MOST_DAYS = 366


class ShiftBreakShape(serializers.Serializer[Any]):
    """A break."""

    starts_at = serializers.DateTimeField()
    ends_at = serializers.DateTimeField()


class ShiftShape(serializers.Serializer[Any]):
    """A shift of one technician."""

    technician = serializers.CharField(source="technician.code")
    day = serializers.DateField()
    starts_at = serializers.DateTimeField()
    ends_at = serializers.DateTimeField()
    breaks = ShiftBreakShape(many=True)


class ShiftSearch(serializers.Serializer[Any]):
    """From when to when."""

    start = serializers.DateTimeField()
    end = serializers.DateTimeField()


class ShiftsMake(serializers.Serializer[Any]):
    """The days, both of them included; a year at most."""

    first_day = serializers.DateField()
    last_day = serializers.DateField()
    why = serializers.CharField(allow_blank=True, max_length=300, default="")

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Days in their order, and not so many that a worker is busy for minutes."""
        if not 0 <= (attrs["last_day"] - attrs["first_day"]).days < _MOST_DAYS:
            raise serializers.ValidationError("the last day is not before the first, and within a year of it")
        return attrs


class ShiftCount(serializers.Serializer[Any]):
    """How many shifts stand on these days."""

    shifts = serializers.IntegerField()


class Shifts(SiteView):
    """The shifts of a site."""

    actions = {"GET": Action.SITE_READ, "POST": Action.ROSTER_CHANGE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="shift_list", parameters=[ShiftSearch], responses=ShiftShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """The shifts that meet the time from `start` to `end`, with their breaks."""
        return self.page(shift_list(user=self.user, site=self.site, **self.asked(ShiftSearch)), ShiftShape)

    @extend_schema(
        operation_id="shifts_make", parameters=[BrokenPlan], request=ShiftsMake, responses={201: ShiftCount}
    )
    def post(self, request: Request, site: str) -> Response:
        """Put the roster on the calendar; the same roster again changes nothing."""
        return self.once(self._made)

    def _made(self) -> Response:
        count = roster_put(
            user=self.user, site=self.site, accepted=self.accepts_broken_plan, **self.sent(ShiftsMake)
        )
        return Response({"shifts": count}, status=201)
