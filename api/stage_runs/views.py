"""Stage runs: list, start, read, finish."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from api.stage_runs.shapes import StageRunFinish, StageRunSearch, StageRunShape, StageRunStart
from api.tyres.damage import damages_of
from planner.domain.permissions import Action
from planner.selectors.nouns import StageRun
from planner.selectors.resources import heater_set_list, position_list, technician_list
from planner.selectors.stage_runs import stage_run_list
from planner.selectors.work_orders import work_order_get
from planner.services.stage_runs import stage_run_finish, stage_run_start


class StageRuns(SiteView):
    """The stages begun or done on a site."""

    actions = {"GET": Action.SITE_READ, "POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(
        operation_id="stage_run_list", parameters=[StageRunSearch], responses=StageRunShape(many=True)
    )
    def get(self, request: Request, site: str) -> Response:
        """The runs, of one work order or of all."""
        number = self.asked(StageRunSearch).get("work_order")
        order = None if number is None else work_order_get(user=self.user, site=self.site, number=number)
        return self.page(stage_run_list(user=self.user, site=self.site, work_order=order), StageRunShape)

    @extend_schema(operation_id="stage_run_start", request=StageRunStart, responses={201: StageRunShape})
    def post(self, request: Request, site: str) -> Response:
        """Record that a stage begins. Isolate, lock out and follow local codes before hands go in."""
        return self.once(self._started)

    def _started(self) -> Response:
        values = self.sent(StageRunStart)
        damage = found(damages_of(self, values.pop("tyre")), pk=values.pop("damage"))
        values |= self._named(values)
        run = stage_run_start(user=self.user, damage=damage, stage_name=values.pop("stage"), **values)
        return self.one(run, StageRunShape, status=201)

    def _named(self, values: dict[str, Any]) -> dict[str, Any]:
        """People, position and set, looked up by their codes among the site's own."""
        here: dict[str, Any] = {"user": self.user, "site": self.site}
        people = technician_list(**here)
        rows: dict[str, Any] = {"technicians": [found(people, code=code) for code in values["technicians"]]}
        if "position" in values:
            rows["position"] = found(position_list(**here), code=values["position"])
        if "heater_set" in values:
            rows["heater_set"] = found(heater_set_list(**here), code=values["heater_set"])
        return rows


class OneStageRun(SiteView):
    """One stage run."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="stage_run_get", responses=StageRunShape)
    def get(self, request: Request, site: str, run: int) -> Response:
        """One run."""
        return self.one(run_of(self, run), StageRunShape)


class StageRunEnd(SiteView):
    """The end of one stage run."""

    actions = {"POST": Action.WORK_RECORD}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="stage_run_finish", request=StageRunFinish, responses=StageRunShape)
    def post(self, request: Request, site: str, run: int) -> Response:
        """Record that the stage is over; the last one ends the repair."""
        row = run_of(self, run)
        self.refuse_unmatched(row, StageRunShape)
        stage_run_finish(user=self.user, run=row, **self.sent(StageRunFinish))
        return self.one(run_of(self, run), StageRunShape)


def run_of(view: SiteView, run: int) -> StageRun:
    """The run that the caller may see."""
    return found(stage_run_list(user=view.user, site=view.site), pk=run)
