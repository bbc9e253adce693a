"""A bay plan: who does what on which tyre when, what is left out, and how good it is."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from planner.domain.bay_time import Span
from planner.domain.errors import InvalidValueError
from planner.domain.sentences import Sentence, _, stored_figure


class PlanStatus(StrEnum):
    """What is known of a plan."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedStage:
    """One stage with its time and what it holds [min after the horizon's start]."""

    name: str
    start: int
    end: int
    technicians: tuple[str, ...] = ()
    position: str | None = None
    heater_set: str | None = None

    def __post_init__(self) -> None:
        if self.end < self.start:
            raise InvalidValueError(_("stage {name} must not end before it starts", name=self.name))

    @property
    def span(self) -> Span:
        """Its time."""
        return Span(self.start, self.end)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedJob:
    """A job with its stages in order; locked work may hold only some of them."""

    id: str
    stages: tuple[PlannedStage, ...]

    def __post_init__(self) -> None:
        if not self.stages:
            raise InvalidValueError(_("job {id} is planned without a stage", id=self.id))

    @property
    def end(self) -> int:
        """When its last stage ends [min]."""
        return self.stages[-1].end


@dataclass(frozen=True, slots=True, kw_only=True)
class Watch:
    """A stretch in which one technician attends one or more tyres."""

    technician: str
    span: Span
    jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """What a planner makes: the planned jobs and who attends them. Nothing here is yet verified."""

    jobs: tuple[PlannedJob, ...]
    watch: tuple[Watch, ...]


@dataclass(frozen=True, slots=True, order=True)
class Score:
    """How good a plan is, smaller is better, compared in this order [priority-weighted min, min]."""

    lateness: int
    flow: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One true cause, in plain words, with the figures behind it: those of the words, and more that help."""

    code: str
    message: Sentence
    figures: Mapping[str, int | float | str | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if not self.code or not self.message:
            raise InvalidValueError(_("a reason needs a code and a message"))
        told = {name: stored_figure(value) for name, value in self.message.figures.items()}
        object.__setattr__(self, "figures", told | dict(self.figures))


@dataclass(frozen=True, slots=True, kw_only=True)
class UnplannedJob:
    """A job that is left out, and why."""

    job: str
    reasons: tuple[Reason, ...]

    def __post_init__(self) -> None:
        if not self.reasons:
            raise InvalidValueError(_("job {job} is left out without a reason", job=self.job))


@dataclass(frozen=True, slots=True, kw_only=True)
class BayPlan:
    """A whole answer to a bay problem; `bound` is a proven lower bound on the lateness."""

    problem_sha256: str
    status: PlanStatus
    score: Score
    bound: int
    schedule: Schedule
    unplanned: tuple[UnplannedJob, ...] = ()
