"""Readings of an injury's cure: those that hold, one more, and the right one beside a wrong one."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from api.tyres.damage import damages_of
from planner.domain.cure_reading import GaugeReading
from planner.domain.permissions import Action
from planner.domain.units import PRESSURE_UNITS, TEMPERATURE_UNITS
from planner.selectors.cure_readings import cure_reading_get, cure_reading_list
from planner.services.cure_readings import cure_reading_add, cure_reading_correct


class GaugeReadingShape(serializers.Serializer[Any]):
    """One reading in °C and kPa, and as it was typed; null where a gauge was not read."""

    id = serializers.IntegerField()
    taken_at = serializers.DateTimeField()
    inside_c = serializers.FloatField(allow_null=True)
    outside_c = serializers.FloatField(allow_null=True)
    pressure_kpa = serializers.FloatField(allow_null=True)
    as_typed = serializers.CharField()
    note = serializers.CharField()
    stage = serializers.CharField(source="stage_run.name", allow_null=True, default=None)
    recorded_at = serializers.DateTimeField()
    recorded_by = serializers.CharField(source="recorded_by.username")
    corrects = serializers.IntegerField(source="corrects_id", allow_null=True)


class GaugeFigures(serializers.Serializer[Any]):
    """What the gauges show, in their units."""

    inside = serializers.FloatField(required=False)
    outside = serializers.FloatField(required=False)
    pressure = serializers.FloatField(required=False)
    temperature_unit = serializers.ChoiceField(choices=TEMPERATURE_UNITS, default="°C")
    pressure_unit = serializers.ChoiceField(choices=PRESSURE_UNITS, default="kPa")


class GaugeReadingSend(GaugeFigures):
    """A reading; of now, unless a time is given."""

    taken_at = serializers.DateTimeField(required=False)
    note = serializers.CharField(max_length=200, allow_blank=True, default="")


class GaugeReadingCorrect(GaugeFigures):
    """What the gauges showed in truth, or that the reading is withdrawn; and why."""

    withdraw = serializers.BooleanField(default=False)
    reason = serializers.CharField(max_length=200)


class GaugeReadings(SiteView):
    """The readings of an injury's cure."""

    actions = {"GET": Action.SITE_READ, "POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="gauge_reading_list", responses=GaugeReadingShape(many=True))
    def get(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """Those that hold, in order of time; corrected ones stand in the repair's record."""
        injury = found(damages_of(self, tyre), pk=damage)
        return self.page(cure_reading_list(user=self.user, damage=injury), GaugeReadingShape)

    @extend_schema(
        operation_id="gauge_reading_add", request=GaugeReadingSend, responses={201: GaugeReadingShape}
    )
    def post(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """Record one reading; the same one of the same time sent twice is recorded once."""
        return self.once(lambda: self._recorded(tyre, damage))

    def _recorded(self, tyre: int, damage: int) -> Response:
        injury, told = found(damages_of(self, tyre), pk=damage), self.sent(GaugeReadingSend)
        taken_at, note = told.pop("taken_at", None), told.pop("note")
        row = cure_reading_add(
            user=self.user,
            damage=injury,
            reading=GaugeReading(**told),
            taken_at=taken_at,
            note=note,
        )
        return self.one(row, GaugeReadingShape, status=201)


class OneGaugeReading(SiteView):
    """One reading."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="gauge_reading_get", responses=GaugeReadingShape)
    def get(self, request: Request, site: str, reading: int) -> Response:
        """One of them, corrected or not."""
        row = cure_reading_get(user=self.user, site=self.site, reading_id=reading)
        return self.one(row, GaugeReadingShape)


class GaugeReadingCorrections(SiteView):
    """The correction of one reading."""

    actions = {"POST": Action.WORK_RECORD}
    matched = frozenset({"POST"})

    @extend_schema(
        operation_id="gauge_reading_correct", request=GaugeReadingCorrect, responses={201: GaugeReadingShape}
    )
    def post(self, request: Request, site: str, reading: int) -> Response:
        """Put the right reading beside a wrong one, or withdraw it; both stay on record."""
        wrong = cure_reading_get(user=self.user, site=self.site, reading_id=reading)
        self.refuse_unmatched(wrong, GaugeReadingShape)
        told = self.sent(GaugeReadingCorrect)
        reason, withdrawn = told.pop("reason"), told.pop("withdraw")
        right = None if withdrawn else GaugeReading(**told)
        row = cure_reading_correct(user=self.user, wrong=wrong, reading=right, reason=reason)
        return self.one(row, GaugeReadingShape, status=201)
