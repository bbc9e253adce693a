"""The rows behind a day's problem, each table read once."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Min

from planner.domain.resources import HeaterSet, Position, Technician
from planner.domain.states import PLANNABLE_WORK, StageRunState
from planner.models import Closure, DamageLimit, Isolation, Route, Shift, Site, SizeClass, StageRun, WorkOrder
from planner.models import HeaterSet as SetRow
from planner.models import Position as PositionRow
from planner.models import Technician as TechnicianRow
from planner.selectors.cure_figures import CureFigures, cure_figures_by_damage
from planner.selectors.day_problem.bay import heater_sets_of, positions_of, technicians_of
from planner.selectors.day_problem.clock import HorizonClock
from planner.selectors.day_problem.fitting import FitTables
from planner.selectors.day_problem.in_hand import Moment


@dataclass(frozen=True, slots=True, kw_only=True)
class BayRows:
    """What the site has in the horizon."""

    technicians: tuple[Technician, ...]
    positions: tuple[Position, ...]
    set_rows: Sequence[SetRow]
    closures: Sequence[Closure]
    isolations: Sequence[Isolation]
    tables: FitTables

    def heater_sets(self, clock: HorizonClock, horizon_end: int) -> tuple[HeaterSet, ...]:
        """The sets with their closures up to the horizon's end."""
        return heater_sets_of(self.set_rows, self.closures, clock, horizon_end)

    def moment(self, clock: HorizonClock, site: Site, now: datetime) -> Moment:
        """The bay as it is looked at now."""
        by_code = {technician.id: technician for technician in self.technicians}
        return Moment(
            clock=clock, now=clock.ceiling(now), grid_minutes=site.grid_minutes, technicians=by_code
        )


def bay_load(*, site: Site, clock: HorizonClock, start: datetime, end: datetime) -> BayRows:
    """Read the bay; shifts and closures reach back to the start of the oldest work in hand."""
    running = StageRun.objects.filter(site=site, state=StageRunState.RUNNING)
    since = min(running.aggregate(first=Min("started_at"))["first"] or start, start)
    meets = {"site": site, "starts_at__lt": end, "ends_at__gt": since}
    shifts = Shift.objects.filter(**meets).prefetch_related("breaks")
    closures = list(Closure.objects.filter(**meets))
    people = TechnicianRow.objects.filter(site=site, active=True).prefetch_related("skills")
    places = list(PositionRow.objects.filter(site=site, active=True).prefetch_related("kinds"))
    sets = list(SetRow.objects.filter(site=site, active=True).prefetch_related("parts", "fits"))
    return BayRows(
        technicians=technicians_of(people, shifts, clock),
        positions=positions_of(places, closures, clock),
        set_rows=sets,
        closures=closures,
        isolations=list(Isolation.objects.filter(**meets)),
        tables=_tables(site, sets, places, clock, start),
    )


def _tables(
    site: Site, sets: Sequence[SetRow], places: Sequence[PositionRow], clock: HorizonClock, start: datetime
) -> FitTables:
    routes = Route.objects.filter(site=site, active=True)
    return FitTables(
        size_classes=list(SizeClass.objects.filter(site=site)),
        routes=list(routes.prefetch_related("stages__skill", "stages__place")),
        limits=list(DamageLimit.objects.filter(site=site)),
        heater_sets=sets,
        positions=places,
        day=clock.day(start),
    )


def work_load(*, site: Site) -> list[WorkOrder]:
    """The orders that are planned, in the order of their numbers, with all that their jobs need."""
    orders = WorkOrder.objects.filter(site=site, state__in=PLANNABLE_WORK).select_related(
        "site", "tyre", "route"
    )
    return list(
        orders.prefetch_related("damages", "route__stages__skill", "route__stages__place").order_by("number")
    )


def cures_load(*, site: Site, orders: Sequence[WorkOrder]) -> dict[int, CureFigures]:
    """The minutes of every cure that the site's charts reach, by injury."""
    damages = [damage for order in orders for damage in order.damages.all()]
    return cure_figures_by_damage(site=site, damages=damages)


def runs_by_damage(*, site: Site) -> dict[int, list[StageRun]]:
    """What is on record of the work in hand, by injury."""
    runs = StageRun.objects.filter(site=site, work_order__state__in=PLANNABLE_WORK)
    found: dict[int, list[StageRun]] = defaultdict(list)
    for run in runs.select_related("position", "heater_set").prefetch_related("technicians"):
        found[run.damage_id].append(run)
    return found
