"""The cures of one work order as they stand now, and what they did to the plan that holds."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from django.db.models import prefetch_related_objects

from planner.domain.bay_time import round_up
from planner.domain.breach import Breach
from planner.domain.errors import InvalidValueError, NotFoundError
from planner.domain.injury import InjurySource
from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.size_reading import size_read
from planner.domain.work import Job, Stage
from planner.models import Damage, Plan, WorkOrder
from planner.scheduling.verify import schedule_verify
from planner.selectors.cure_figures import CureFigures, cure_figures_by_damage
from planner.selectors.cure_inputs import cure_tables_get
from planner.selectors.cure_limits import LimitWords, limit_words
from planner.selectors.cure_spreads import CureSpread, cure_spreads_by_damage
from planner.selectors.day_problem.cure_stages import stages_with_cure
from planner.selectors.day_problem.jobs import stages_of
from planner.selectors.plans import plan_content_get
from planner.selectors.routes import route_get

SHOWN = 3
"""So many breaches are named [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderCure:
    """One injury's cure: `figures` is None where the site has no chart for it; `stages` as planned now.

    `spread` is how far the figures may be off; None where they are not known.
    """

    damage: Damage
    job_id: str
    figures: CureFigures | None
    spread: CureSpread | None
    stages: tuple[Stage, ...]

    @property
    def provisional(self) -> bool:
        """Whether the injury was only guessed from outside."""
        return self.damage.source != InjurySource.MEASURED


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanHold:
    """Whether the published plan still holds for a job with its minutes of today.

    Args:
        changes: what changed, such as `Cure 240 → 285 min`.
        holds: no rule is broken when the block takes its new minutes.
        block_ends_at: with the new minutes.
        attended_until: by the plan.
        breaches: in plain words.

    """

    job_id: str
    changes: str
    holds: bool
    block_ends_at: datetime
    attended_until: datetime | None
    breaches: tuple[str, ...]


def order_cure_list(*, order: WorkOrder) -> list[OrderCure]:
    """The cures of an order's injuries, in the order of its jobs; empty stages where no route fits."""
    damages = list(order.damages.all())
    sets = sets_on_record(order=order)
    figures = cure_figures_by_damage(site=order.site, damages=damages, sets=sets)
    spreads = cure_spreads_by_damage(site=order.site, damages=damages, sets=sets)
    return [
        OrderCure(
            damage=damage,
            job_id=order.code if place == 1 else f"{order.code}.{place}",
            figures=figures.get(damage.pk),
            spread=spreads.get(damage.pk),
            stages=_stages(order, damage, figures.get(damage.pk)),
        )
        for place, damage in enumerate(damages, start=1)
    ]


def order_limit_map_get(*, order: WorkOrder) -> dict[int, list[LimitWords]]:
    """The limits of each injury's cure on the set that the floor's record names; none that contradict."""
    tables, sets = cure_tables_get(site=order.site), sets_on_record(order=order)
    found: dict[int, list[LimitWords]] = {}
    for damage in order.damages.all():
        try:
            found[damage.pk] = limit_words(tables.limits_of(damage, sets.get(damage.pk)))
        except InvalidValueError:
            found[damage.pk] = []
    return found


def sets_on_record(*, order: WorkOrder) -> dict[int, int]:
    """The heater set that is, or was last, on each injury by the record of the floor."""
    runs = order.stage_runs.filter(heater_set__isnull=False).order_by("started_at")
    return dict(runs.values_list("damage", "heater_set"))


def plan_hold_list(*, plan: Plan | None, cures: Sequence[OrderCure]) -> list[PlanHold]:
    """What changed minutes did to the published plan; one for each job whose minutes changed since."""
    if plan is None:
        return []
    content = plan_content_get(plan=plan)
    holds = (_hold(content.problem, content.plan.schedule, cure) for cure in cures)
    return [hold for hold in holds if hold is not None]


def _stages(order: WorkOrder, damage: Damage, figures: CureFigures | None) -> tuple[Stage, ...]:
    try:
        route = order.route or route_get(
            site=order.site, size=size_read(order.tyre.size).size, zone=damage.zone
        )
    except NotFoundError:
        return ()
    prefetch_related_objects([route], "stages__skill", "stages__place")
    return stages_with_cure(stages_of(route, damage), figures)


def _hold(problem: BayProblem, schedule: Schedule, cure: OrderCure) -> PlanHold | None:
    job = next((each for each in problem.jobs if each.id == cure.job_id), None)
    planned = next((each for each in schedule.jobs if each.id == cure.job_id), None)
    if job is None or planned is None:
        return None
    fixed = {stage.name for each in problem.locked if each.id == job.id for stage in each.stages}
    minutes = {stage.name: stage.minutes for stage in cure.stages if stage.name not in fixed}
    changed = [stage for stage in job.stages if minutes.get(stage.name, stage.minutes) != stage.minutes]
    if not changed:
        return None
    moved = replace(planned, stages=_restretched(problem, job, planned, minutes))
    told = _breaches(problem, schedule, job, moved, minutes)
    return PlanHold(
        job_id=job.id,
        changes=", ".join(f"{stage.name} {stage.minutes} → {minutes[stage.name]} min" for stage in changed),
        holds=not told,
        block_ends_at=_clock(problem, _block_end(job, moved)),
        attended_until=_attended_until(problem, schedule, job.id),
        breaches=tuple(breach.message for breach in told[:SHOWN]),
    )


def _restretched(
    problem: BayProblem, job: Job, planned: PlannedJob, minutes: Mapping[str, int]
) -> tuple[PlannedStage, ...]:
    """The planned stages with the block from its start on in its new minutes; the rest stays."""
    stages: list[PlannedStage] = []
    for stage, place in zip(job.stages, planned.stages, strict=True):
        if not stage.block:
            stages.append(place)
            continue
        length = place.end - place.start
        if stage.name in minutes and minutes[stage.name] != stage.minutes:
            length = round_up(minutes[stage.name], problem.grid_minutes)
        start = stages[-1].end if stages and job.stages[len(stages) - 1].block else place.start
        stages.append(replace(place, start=start, end=start + length))
    return tuple(stages)


def _breaches(
    problem: BayProblem, schedule: Schedule, job: Job, moved: PlannedJob, minutes: Mapping[str, int]
) -> list[Breach]:
    """What is broken with the job's new minutes in its stretched place."""
    stages = tuple(replace(stage, minutes=minutes.get(stage.name, stage.minutes)) for stage in job.stages)
    jobs = tuple(replace(each, stages=stages) if each.id == job.id else each for each in problem.jobs)
    placed = tuple(moved if each.id == job.id else each for each in schedule.jobs)
    return list(schedule_verify(replace(problem, jobs=jobs), replace(schedule, jobs=placed)))


def _block_end(job: Job, moved: PlannedJob) -> int:
    ends = [place.end for stage, place in zip(job.stages, moved.stages, strict=True) if stage.block]
    return max(ends, default=moved.end)


def _attended_until(problem: BayProblem, schedule: Schedule, job_id: str) -> datetime | None:
    ends = [watch.span.end for watch in schedule.watch if job_id in watch.jobs]
    return _clock(problem, max(ends)) if ends else None


def _clock(problem: BayProblem, minute: int) -> datetime:
    return problem.origin.astimezone(UTC) + timedelta(minutes=minute)
