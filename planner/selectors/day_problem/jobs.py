"""One job for each injury of a work order that is to be repaired."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planner.domain.injury import InjuryMeasure
from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.routing import StageTemplate
from planner.domain.sentences import Sentence, _
from planner.domain.size_reading import size_read
from planner.domain.sizes import TyreSize
from planner.domain.work import Job, Stage, StageKind
from planner.models import Damage, Route, RouteStage, StageRun, WorkOrder
from planner.selectors.cure_figures import CureFigures
from planner.selectors.day_problem.cure_stages import cure_warnings, stages_with_cure
from planner.selectors.day_problem.fitting import FitTables
from planner.selectors.day_problem.in_hand import Moment, WorkLeft, work_left


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeJob:
    """A job with what of it stands fixed; `job` is None where nothing is left to do."""

    job: Job | None
    locked: PlannedJob | None = None
    warnings: tuple[Sentence, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class JobMaker:
    """Makes jobs from rows with the site's tables at one moment; `cures` by injury."""

    tables: FitTables
    moment: Moment
    cures: Mapping[int, CureFigures] = field(default_factory=dict)

    def job(
        self, order: WorkOrder, damage: Damage, job_id: str, after: Sequence[str], runs: Sequence[StageRun]
    ) -> MadeJob:
        """The job of one injury; raises NoFitError with the reason where it cannot enter the problem."""
        size, injury = size_read(order.tyre.size).size, damage.injury
        self.tables.refuse_over_limit(size, injury)
        route = order.route or self.tables.route(size, injury)
        rows = list(route.stages.all())
        templates = [template_of(row) for row in rows]
        of_sequence = {run.sequence: run for run in runs}
        cure = self.cures.get(damage.pk)
        stages = stages_with_cure([template.stage_for(injury) for template in templates], cure)
        left = work_left(stages, [of_sequence.get(row.sequence) for row in rows], self.moment)
        if not left.stages:
            return MadeJob(job=None)
        job = self._job(order, damage, job_id, after, size, left)
        locked = PlannedJob(id=job_id, stages=left.fixed) if left.fixed else None
        charted = cure_warnings(str(damage), cure) if cure else _chart_warnings(route, templates, damage)
        warnings = charted + left.warnings
        return MadeJob(
            job=job,
            locked=locked,
            warnings=tuple(_("{job}: {what}", job=job_id, what=text) for text in warnings),
        )

    def _job(
        self,
        order: WorkOrder,
        damage: Damage,
        job_id: str,
        after: Sequence[str],
        size: TyreSize,
        left: WorkLeft,
    ) -> Job:
        clock = self.moment.clock
        released_at = clock.ceiling(order.released_at)
        held_sets = tuple(stage.heater_set for stage in left.fixed if stage.heater_set)
        needs_set = any(stage.block for stage in left.stages)
        sets = held_sets[:1] or (self.tables.sets_for(size, damage.injury) if needs_set else ())
        return Job(
            id=job_id,
            priority=order.priority,
            released_at=min([max(released_at, left.released_at or released_at), *_starts(left.fixed)]),
            needed_by=clock.floor(order.needed_by),
            stages=left.stages,
            after=tuple(after),
            heater_sets=sets,
            positions=self._positions(size, left),
        )

    def _positions(self, size: TyreSize, left: WorkLeft) -> Mapping[str, tuple[str, ...]]:
        """The eligible positions by kind; where the tyre stands already, that one only."""
        kinds = dict.fromkeys(stage.place for stage in left.stages if stage.place)
        held = {
            stage.place: planned.position
            for stage, planned in zip(left.stages, left.fixed, strict=False)
            if stage.place and planned.position
        }
        return {
            kind: (held[kind],) if kind in held else self.tables.positions_for(size, kind) for kind in kinds
        }


def template_of(row: RouteStage) -> StageTemplate:
    """A stored stage of a route as a value of the domain."""
    return StageTemplate(
        name=row.name,
        kind=StageKind(row.kind),
        base_minutes=row.base_minutes,
        minutes_per_unit=row.minutes_per_unit,
        unit=InjuryMeasure(row.unit),
        largest_units=row.largest_units,
        crew=row.crew,
        skill=row.skill.code if row.skill else None,
        pausable=row.pausable,
        block=row.block,
        place=row.place.code if row.place else None,
        min_wait_after=row.min_wait_after,
        max_wait_after=row.max_wait_after,
    )


def stages_of(route: Route, damage: Damage) -> tuple[Stage, ...]:
    """The stages of a route with their minutes for one injury."""
    return tuple(template_of(row).stage_for(damage.injury) for row in route.stages.all())


def _starts(fixed: Sequence[PlannedStage]) -> list[int]:
    return [stage.start for stage in fixed]


def _chart_warnings(route: Route, templates: Sequence[StageTemplate], damage: Damage) -> tuple[Sentence, ...]:
    return tuple(
        _(
            "{stage} is past the chart of route {route}: ask the material maker before the cure",
            stage=template.name,
            route=route.code,
        )
        for template in templates
        if template.past_chart(damage.injury)
    )
