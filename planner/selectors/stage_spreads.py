"""How the site's own stages scatter about their planned minutes, where there are records enough."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from planner.domain.states import StageRunState
from planner.models import Plan, Site, StageRun
from planner.scheduling.replay import Spread
from planner.selectors.plan_promises import order_code
from planner.selectors.plans import plan_content_get

ENOUGH_RUNS = 8
_NEWEST_RUNS = 500


def stage_spreads_get(*, site: Site) -> Mapping[str, Spread]:
    """The spread of actual over planned minutes by the stage's name, from at least `ENOUGH_RUNS` runs each.

    Only runs that were done by a plan count, and the newest ones of them; elapsed time is set against elapsed
    time, breaks within.
    """
    runs = StageRun.objects.filter(site=site, state=StageRunState.DONE, plan__isnull=False)
    newest = list(runs.select_related("work_order", "plan").order_by("-ended_at")[:_NEWEST_RUNS])
    plans = {run.plan_id: run.plan for run in newest if run.plan is not None}
    planned = {key: _planned_minutes(plan) for key, plan in plans.items()}
    ratios: dict[str, list[float]] = defaultdict(list)
    for run in newest:
        minutes = planned[run.plan_id].get((run.work_order.code, run.name))
        if minutes and run.ended_at is not None:
            ratios[run.name].append((run.ended_at - run.started_at).total_seconds() / 60 / minutes)
    return {name: spread_of_ratios(those) for name, those in ratios.items() if len(those) >= ENOUGH_RUNS}


def spread_of_ratios(ratios: Iterable[float]) -> Spread:
    """The median and the 90th percentile (nearest rank) of actual over planned minutes [1]."""
    ordered = sorted(max(ratio, 0.05) for ratio in ratios)
    return Spread(median=_ranked(ordered, 50), p90=_ranked(ordered, 90))


def _ranked(ordered: list[float], percent: int) -> float:
    return ordered[-(-percent * len(ordered) // 100) - 1]


def _planned_minutes(plan: Plan) -> dict[tuple[str, str], int]:
    """What a plan gave each stage, by order and stage [min]; an order of several injuries does not count."""
    jobs = plan_content_get(plan=plan).plan.schedule.jobs
    codes = [order_code(job.id) for job in jobs]
    return {
        (job.id, stage.name): stage.end - stage.start
        for job in jobs
        if codes.count(order_code(job.id)) == 1
        for stage in job.stages
    }
