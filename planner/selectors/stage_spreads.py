"""How the site's own stages scatter about their planned minutes, where there are records enough."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from planner.domain.size_reading import size_read
from planner.domain.states import StageRunState
from planner.models import Plan, Site, StageRun
from planner.scheduling.replay import Spread
from planner.selectors.day_problem.jobs import stages_of
from planner.selectors.plan_promises import order_code
from planner.selectors.plans import plan_content_get
from planner.selectors.routes import RouteTable, route_table_get

ENOUGH_RUNS = 8
_NEWEST_RUNS = 500


def stage_spreads_get(*, site: Site) -> Mapping[str, Spread]:
    """The spread of actual over planned minutes by the stage's name, from at least `ENOUGH_RUNS` runs each.

    The newest runs count: those done by a plan against its minutes, those from before the first plan against
    their route's. Elapsed time is set against elapsed time, breaks within.
    """
    runs = StageRun.objects.filter(site=site, state=StageRunState.DONE, ended_at__isnull=False)
    named = runs.select_related("plan", "damage", "work_order__tyre", "work_order__route")
    newest = list(named.order_by("-ended_at")[:_NEWEST_RUNS])
    planned = _Planned(site=site)
    ratios: dict[str, list[float]] = defaultdict(list)
    for run in newest:
        minutes = planned.minutes(run)
        if minutes and run.ended_at is not None:
            ratios[run.name].append((run.ended_at - run.started_at).total_seconds() / 60 / minutes)
    return {name: spread_of_ratios(those) for name, those in ratios.items() if len(those) >= ENOUGH_RUNS}


def spread_of_ratios(ratios: Iterable[float]) -> Spread:
    """The median and the 90th percentile (nearest rank) of actual over planned minutes [1]."""
    ordered = sorted(max(ratio, 0.05) for ratio in ratios)
    return Spread(median=_ranked(ordered, 50), p90=_ranked(ordered, 90))


def _ranked(ordered: list[float], percent: int) -> float:
    return ordered[-(-percent * len(ordered) // 100) - 1]


class _Planned:
    """What each run was planned to take; plans and routes are read once."""

    def __init__(self, *, site: Site) -> None:
        self._routes = route_table_get(site=site)
        self._plans: dict[int, Mapping[tuple[str, str], int]] = {}
        self._damages: dict[int, Mapping[str, int]] = {}

    def minutes(self, run: StageRun) -> int | None:
        """Of the run's plan, or of its injury's route where it was done before there were plans [min]."""
        if run.plan is not None:
            if run.plan.pk not in self._plans:
                self._plans[run.plan.pk] = _of_plan(run.plan)
            return self._plans[run.plan.pk].get((run.work_order.code, run.name))
        if run.damage_id not in self._damages:
            self._damages[run.damage_id] = _of_route(self._routes, run)
        return self._damages[run.damage_id].get(run.name)


def _of_route(routes: RouteTable, run: StageRun) -> Mapping[str, int]:
    """What the route gives each stage outside the heat block, whose length is the cure's own [min]."""
    order = run.work_order
    route = order.route or routes.route(size_read(order.tyre.size).size, run.damage.zone)
    if route is None:
        return {}
    return {each.name: each.minutes for each in stages_of(route, run.damage) if not each.block}


def _of_plan(plan: Plan) -> dict[tuple[str, str], int]:
    """What a plan gave each stage, by order and stage [min]; an order of several injuries does not count."""
    jobs = plan_content_get(plan=plan).plan.schedule.jobs
    codes = [order_code(job.id) for job in jobs]
    return {
        (job.id, stage.name): stage.end - stage.start
        for job in jobs
        if codes.count(order_code(job.id)) == 1
        for stage in job.stages
    }
