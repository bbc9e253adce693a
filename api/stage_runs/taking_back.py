"""A tap that was a slip: taken back, and on record as such."""

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.named import Named
from api.base.views import SiteView
from api.stage_runs.shapes import StageRunSearch, StageRunShape
from api.stage_runs.views import run_of
from planner.domain.permissions import Action
from planner.domain.taking_back import StageTap
from planner.selectors.nouns import TapTakenBack
from planner.selectors.stage_taps import tap_taken_back_list
from planner.selectors.work_orders import work_order_get
from planner.services.taking_back import stage_tap_take_back


class TapTakenBackShape(serializers.ModelSerializer[TapTakenBack]):
    """What stood on record, who had tapped it, and who took it back when and why."""

    work_order = Named(slug_field="number", read_only=True)
    tapped_by = Named(slug_field="username", read_only=True, allow_null=True)
    taken_back_by = Named(slug_field="username", read_only=True)

    class Meta:
        """All but its site, and a version that never changes."""

        model = TapTakenBack
        exclude = ("site", "version")


class StageTapTakeBack(serializers.Serializer[TapTakenBack]):
    """Which tap of the run; `set_is_safe` says that somebody saw its set off and every bag empty."""

    tap = serializers.ChoiceField(choices=[each.value for each in StageTap])
    set_is_safe = serializers.BooleanField(default=False)
    why = serializers.CharField(allow_blank=True, max_length=300, default="")


class TapsTakenBack(SiteView):
    """The taps that were taken back."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(
        operation_id="tap_taken_back_list",
        parameters=[StageRunSearch],
        responses=TapTakenBackShape(many=True),
    )
    def get(self, request: Request, site: str) -> Response:
        """Every start or end that was taken back, of one work order or of all."""
        number = self.asked(StageRunSearch).get("work_order")
        order = None if number is None else work_order_get(user=self.user, site=self.site, number=number)
        return self.page(
            tap_taken_back_list(user=self.user, site=self.site, work_order=order), TapTakenBackShape
        )


class StageRunTakeBack(SiteView):
    """The taking back of a run's last tap."""

    actions = {"POST": Action.WORK_RECORD}
    matched = frozenset({"POST"})
    created = frozenset({"POST"})

    @extend_schema(
        operation_id="stage_run_take_back", request=StageTapTakeBack, responses={201: TapTakenBackShape}
    )
    def post(self, request: Request, site: str, run: int) -> Response:
        """Take back a start (the run is removed) or an end (it goes on) that was tapped by mistake.

        Only the injury's last tap: by who tapped it within half an hour, else by a supervisor. What was
        signed, inspected, judged or booked meanwhile holds it.
        """
        return self.once(lambda: self._taken_back(run))

    def _taken_back(self, run: int) -> Response:
        row = run_of(self, run)
        self.refuse_unmatched(row, StageRunShape)
        values = self.sent(StageTapTakeBack)
        tap = StageTap(values.pop("tap"))
        taken = stage_tap_take_back(user=self.user, run=row, tap=tap, **values)
        return self.one(taken, TapTakenBackShape, status=201)
