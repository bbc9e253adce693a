"""A planned job beside the job that was asked for, stage by stage."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.bay_time import Span
from planner.domain.breach import Breach
from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.sentences import Sentence, _
from planner.domain.work import Job, Stage, StageKind


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedStage:
    """What was asked (`stage`), what was planned (`planned`), and whether it stands locked."""

    job: str
    stage: Stage
    planned: PlannedStage
    locked: bool

    @property
    def span(self) -> Span:
        """When it is planned."""
        return self.planned.span

    @property
    def hands_on(self) -> bool:
        """Whether technicians work on it."""
        return self.stage.kind is StageKind.HANDS_ON

    @property
    def energised(self) -> bool:
        """Whether pads are powered in it."""
        return self.stage.kind is StageKind.ENERGISED

    def watched(self, watch_cool_down: bool) -> bool:
        """Whether somebody must attend it."""
        return self.energised or (watch_cool_down and self.stage.kind is StageKind.PRESSURISED)

    def breach(self, rule: str, what: Sentence, technician: str | None = None) -> Breach:
        """A breach of a rule at this stage."""
        return Breach(
            rule=rule,
            message=_("{job}, {stage}: {what}", job=self.job, stage=self.stage.name, what=what),
            job=self.job,
            stage=self.stage.name,
            technician=technician,
            position=self.planned.position,
            heater_set=self.planned.heater_set,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedStages:
    """Neighbouring stages that hold something together: the heat block, or a stay on a position."""

    stages: tuple[PlacedStage, ...]

    @property
    def span(self) -> Span:
        """From the first start to the last end; planned stages may stand in any order."""
        start, end = self.stages[0].planned.start, self.stages[-1].planned.end
        return Span(start, max(start, end))

    @property
    def locked(self) -> bool:
        """Whether all of them are."""
        return all(stage.locked for stage in self.stages)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedJob:
    """A job with all its stages placed."""

    job: Job
    stages: tuple[PlacedStage, ...]

    @classmethod
    def of(cls, job: Job, planned: PlannedJob, locked: Mapping[tuple[str, str], PlannedStage]) -> "PlacedJob":
        """Match a planned job, which has the job's stages in order."""
        pairs = zip(job.stages, planned.stages, strict=True)
        return cls(
            job=job,
            stages=tuple(
                PlacedStage(job=job.id, stage=asked, planned=got, locked=(job.id, asked.name) in locked)
                for asked, got in pairs
            ),
        )

    @property
    def start(self) -> int:
        """When its first stage starts [min]."""
        return self.stages[0].planned.start

    @property
    def end(self) -> int:
        """When its last stage ends [min]."""
        return self.stages[-1].planned.end

    def block(self) -> PlacedStages | None:
        """Its heat block, where it has one."""
        stages = tuple(stage for stage in self.stages if stage.stage.block)
        return PlacedStages(stages=stages) if stages else None

    def stays(self) -> tuple[PlacedStages, ...]:
        """Its stays, each on one position."""
        return tuple(PlacedStages(stages=self.stages[run.start : run.stop]) for run in self.job.stays())
