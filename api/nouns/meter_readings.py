"""Readings of a machine's hour meter."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from planner.domain.permissions import Action
from planner.selectors.fleet import machine_list
from planner.selectors.machines import reading_list
from planner.services.machines import machine_hours_record


class MeterReadingShape(serializers.Serializer[Any]):
    """What the meter said [h], and when."""

    id = serializers.IntegerField()
    read_at = serializers.DateTimeField()
    hours = serializers.IntegerField()


class MeterReadingSend(serializers.Serializer[Any]):
    """What the meter says [h]; now, unless a time is given."""

    hours = serializers.IntegerField(min_value=0, max_value=1_000_000)
    read_at = serializers.DateTimeField(required=False)


class MeterReadings(SiteView):
    """The readings of one machine's meter."""

    actions = {"GET": Action.SITE_READ, "POST": Action.TYRE_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="machine_reading_list", responses=MeterReadingShape(many=True))
    def get(self, request: Request, site: str, machine: int) -> Response:
        """The readings, the newest first."""
        row = found(machine_list(user=self.user, site=self.site), pk=machine)
        return self.page(reading_list(user=self.user, machine=row), MeterReadingShape)

    @extend_schema(
        operation_id="machine_hours_record", request=MeterReadingSend, responses={201: MeterReadingShape}
    )
    def post(self, request: Request, site: str, machine: int) -> Response:
        """Keep a reading; the machine's hours and those of its fitted tyres follow a newer one."""
        return self.once(lambda: self._recorded(machine))

    def _recorded(self, machine: int) -> Response:
        row = found(machine_list(user=self.user, site=self.site), pk=machine)
        reading = machine_hours_record(user=self.user, machine=row, **self.sent(MeterReadingSend))
        return self.one(reading, MeterReadingShape, status=201)
