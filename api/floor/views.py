"""Who attends what is hot, problems told, the bay closed."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.plan import PlannedStage
from planner.selectors.attendance import AttendedTyre, attended_tyre_list
from planner.services.floor_reports import CLOSING_STEPS, Tap, bay_close, stage_problem
from planner.services.tyre_watches import watch_hand_over, watch_sign_off, watch_sign_on


class AttendedShape(serializers.Serializer[Any]):
    """A tyre that is, or may be, hot or under pressure; an `alarm` says why it counts as unattended."""

    damage = serializers.IntegerField(source="hot.damage")
    work_order = serializers.CharField(source="hot.work_order")
    tyre = serializers.CharField(source="hot.tyre")
    stage = serializers.CharField(source="hot.stage")
    heater_set = serializers.CharField(source="hot.heater_set")
    technician = serializers.CharField(source="watch.technician.code", allow_null=True, default=None)
    signed_on_at = serializers.DateTimeField(source="watch.signed_on_at", allow_null=True, default=None)
    handed_to = serializers.CharField(source="waits_for", allow_blank=True)
    alarm = serializers.CharField(allow_blank=True)


class TechnicianName(serializers.Serializer[Any]):
    """A technician by code."""

    technician = serializers.SlugField(max_length=40)


class ProblemTell(serializers.Serializer[Any]):
    """What is wrong, at which stage of which job, such as `WO-0012`."""

    job = serializers.CharField(max_length=60)
    stage = serializers.CharField(max_length=60)
    words = serializers.CharField(max_length=300)


class ProblemTold(serializers.Serializer[Any]):
    """The job that it stands on record with."""

    job = serializers.CharField()


class BayClosing(serializers.Serializer[Any]):
    """Every step that somebody has seen with their own eyes; all of them close the bay."""

    seen = serializers.ListField(child=serializers.ChoiceField(choices=CLOSING_STEPS), max_length=10)


class BayClosed(serializers.Serializer[Any]):
    """When it was closed."""

    closed_at = serializers.DateTimeField()


class AttendanceView(SiteView):
    """What the views of attendance share."""

    def attended(self) -> list[AttendedTyre]:
        """Every hot tyre with who attends it now."""
        return attended_tyre_list(user=self.user, site=self.site, now=timezone.now())

    def tyre_of(self, damage: int) -> AttendedTyre:
        """One hot tyre by its injury."""
        for each in self.attended():
            if each.hot.damage == damage:
                return each
        raise NotFoundError("that tyre is neither hot nor under pressure by the record")


class Attendance(AttendanceView):
    """Tyres that somebody has to attend."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="attendance_list", responses=AttendedShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """Every tyre that is hot or under pressure, and who attends it."""
        return self.page(self.attended(), AttendedShape)


class OneAttendance(AttendanceView):
    """One tyre that somebody has to attend."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="attendance_get", responses=AttendedShape)
    def get(self, request: Request, site: str, damage: int) -> Response:
        """Who attends it."""
        return self.one(self.tyre_of(damage), AttendedShape)


class WatchSignOn(AttendanceView):
    """The beginning of a watch."""

    actions = {"POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="watch_sign_on", request=TechnicianName, responses={201: AttendedShape})
    def post(self, request: Request, site: str, damage: int) -> Response:
        """Attend the tyre, standing at it, or take it over from whoever asked. Twice changes nothing."""
        return self.once(lambda: self._signed_on(damage))

    def _signed_on(self, damage: int) -> Response:
        self.tyre_of(damage)
        watch_sign_on(user=self.user, site=self.site, damage_id=damage, **self.sent(TechnicianName))
        return self.one(self.tyre_of(damage), AttendedShape, status=201)


class WatchSignOff(AttendanceView):
    """The end of a watch."""

    actions = {"POST": Action.WORK_RECORD}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="watch_sign_off", request=None, responses=AttendedShape)
    def post(self, request: Request, site: str, damage: int) -> Response:
        """Leave the tyre: it counts as unattended until somebody signs on."""
        self.refuse_unmatched(self.tyre_of(damage), AttendedShape)
        watch_sign_off(user=self.user, site=self.site, damage_id=damage)
        return self.one(self.tyre_of(damage), AttendedShape)


class WatchHandOver(AttendanceView):
    """The handing over of a watch."""

    actions = {"POST": Action.WORK_RECORD}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="watch_hand_over", request=TechnicianName, responses=AttendedShape)
    def post(self, request: Request, site: str, damage: int) -> Response:
        """Ask somebody to take the tyre over; stay until they sign on by their own name."""
        self.refuse_unmatched(self.tyre_of(damage), AttendedShape)
        to = self.sent(TechnicianName)["technician"]
        watch_hand_over(user=self.user, site=self.site, damage_id=damage, to=to)
        return self.one(self.tyre_of(damage), AttendedShape)


class StageProblems(SiteView):
    """Problems told from the floor."""

    actions = {"POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="stage_problem_tell", request=ProblemTell, responses={201: ProblemTold})
    def post(self, request: Request, site: str) -> Response:
        """Tell the supervisor of a problem; it stands on record with the order."""
        return self.once(self._told)

    def _told(self) -> Response:
        values = self.sent(ProblemTell)
        stage = PlannedStage(name=values["stage"], start=0, end=0)
        tap = Tap(job=values["job"], stage=stage, at=timezone.now())
        stage_problem(user=self.user, site=self.site, tap=tap, words=values["words"])
        return Response({"job": values["job"]}, status=201)


class BayClosings(SiteView):
    """The closing of the bay."""

    actions = {"POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="bay_close", request=BayClosing, responses={201: BayClosed})
    def post(self, request: Request, site: str) -> Response:
        """Record that the bay is closed; refused while anything is, or may be, hot or under pressure."""
        return self.once(self._closed)

    def _closed(self) -> Response:
        bay_close(user=self.user, site=self.site, confirmed=set(self.sent(BayClosing)["seen"]))
        return self.one({"closed_at": timezone.now()}, BayClosed, status=201)
