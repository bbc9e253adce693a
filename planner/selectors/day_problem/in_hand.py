"""Work in hand: what of a job is over, what is going on and stands fixed, and what is still to plan."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from planner.domain.bay_time import round_down, round_up
from planner.domain.plan import PlannedStage
from planner.domain.resources import Technician
from planner.domain.sentences import Sentence, _
from planner.domain.states import StageRunState
from planner.domain.work import Stage, StageKind
from planner.models import StageRun
from planner.selectors.day_problem.clock import HorizonClock
from planner.selectors.day_problem.crew_time import crew_end


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """When the bay is looked at, and with whom: bay time of now [min], the grid, and the roster."""

    clock: HorizonClock
    now: int
    grid_minutes: int
    technicians: Mapping[str, Technician]

    def up(self, minutes: int) -> int:
        """On the grid at or after."""
        return round_up(minutes, self.grid_minutes)

    def down(self, minutes: int) -> int:
        """On the grid at or before."""
        return round_down(minutes, self.grid_minutes)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkLeft:
    """The stages still in the job, those of them that stand fixed, and what the supervisor should know."""

    stages: tuple[Stage, ...]
    fixed: tuple[PlannedStage, ...] = ()
    released_at: int | None = None
    warnings: tuple[Sentence, ...] = ()


def work_left(stages: Sequence[Stage], runs: Sequence[StageRun | None], moment: Moment) -> WorkLeft:
    """What is left of a job. `runs` holds what is on record for each of `stages`, in their order.

    Stages that are over drop out, but the last of them stays, as fixed time without people, where the
    tyre still stands on its position or in its heat block. A stage that is going on stands fixed.
    """
    over = [run is not None and run.state != StageRunState.RUNNING for run in runs]
    first = over.index(False) if False in over else len(stages)
    if first == len(stages):
        return WorkLeft(stages=())
    current, last = runs[first], runs[first - 1] if first else None
    if current is None and last is None:
        return WorkLeft(stages=tuple(stages))
    left = tuple(stages[first:])
    going_on = _going_on(left, current, moment) if current is not None else WorkLeft(stages=left)
    if last is None:
        return going_on
    return _with_last(stages[first - 1], last, going_on, moment)


def _going_on(left: tuple[Stage, ...], run: StageRun, moment: Moment) -> WorkLeft:
    """Fix the stage that is going on, and whatever of its heat block begins before the horizon does."""
    start = moment.down(moment.clock.floor(run.started_at))
    crew = tuple(sorted(technician.code for technician in run.technicians.all()))
    stage, end, warnings = _running(left[0], start, crew, moment)
    fixed = [_planned(stage, start, end, run, crew if stage.kind is StageKind.HANDS_ON else ())]
    stages = [stage]
    for following in left[1:]:
        if not (following.block and stages[-1].block and end < 0):
            break
        start, end = end, end + moment.up(following.minutes)
        stages.append(_without_people(following, end - start))
        fixed.append(_planned(stages[-1], start, end, run, ()))
    stages += left[len(stages) :]
    return WorkLeft(stages=tuple(stages), fixed=tuple(fixed), warnings=warnings)


def _running(
    stage: Stage, start: int, crew: tuple[str, ...], moment: Moment
) -> tuple[Stage, int, tuple[Sentence, ...]]:
    """The running stage as it is planned to its end; one that runs late is taken to end now."""
    now = moment.up(max(moment.now, start + 1))
    if stage.kind is not StageKind.HANDS_ON:
        end = max(start + moment.up(stage.minutes), now)
        return replace(stage, minutes=end - start), end, ()
    people = [moment.technicians[code] for code in crew if code in moment.technicians]
    fits = len(people) == len(crew) == stage.crew and all(stage.skill in each.skills for each in people)
    planned = crew_end(start, moment.up(stage.minutes), people, moment.grid_minutes, pausable=stage.pausable)
    if fits and planned is not None and planned >= now:
        return stage, planned, ()
    end = max(start + moment.up(stage.minutes), now)
    warning = _(
        "{stage} goes on outside the roster or past its time: planned to end with no crew held",
        stage=stage.name,
    )
    return _without_people(stage, end - start), end, (warning,)


def _with_last(stage: Stage, run: StageRun, left: WorkLeft, moment: Moment) -> WorkLeft:
    """Put the last finished stage before what is left, as fixed time, where it still holds something."""
    following = left.stages[0]
    ended = moment.up(moment.clock.ceiling(run.ended_at or run.started_at))
    warnings = left.warnings
    if stage.max_wait_after is not None and not left.fixed:
        warnings += (
            _(
                "{following} must begin within {minutes} min of the end of {stage}",
                following=following.name,
                minutes=stage.max_wait_after,
                stage=stage.name,
            ),
        )
    held = stage.block and following.block
    if not held and (stage.place is None or stage.place != following.place):
        return replace(left, released_at=ended + moment.up(stage.min_wait_after), warnings=warnings)
    if left.fixed:
        ended = left.fixed[0].start
    elif held:
        # The block goes on without a gap, so the time since stands in the finished stage.
        ended = max(ended, moment.up(moment.now), 0)
    step = moment.grid_minutes
    kept = replace(
        _without_people(stage, step),
        max_wait_after=None,
        min_wait_after=0 if left.fixed else stage.min_wait_after,
    )
    fixed = _planned(kept, ended - step, ended, run, ())
    return WorkLeft(stages=(kept, *left.stages), fixed=(fixed, *left.fixed), warnings=warnings)


def _without_people(stage: Stage, minutes: int) -> Stage:
    """The stage as mere time that holds its position and set."""
    kind = StageKind.WAIT if stage.kind is StageKind.HANDS_ON else stage.kind
    return replace(stage, kind=kind, minutes=minutes, crew=0, skill=None, pausable=False)


def _planned(stage: Stage, start: int, end: int, run: StageRun, crew: tuple[str, ...]) -> PlannedStage:
    return PlannedStage(
        name=stage.name,
        start=start,
        end=end,
        technicians=crew,
        position=run.position.code if stage.place and run.position else None,
        heater_set=run.heater_set.code if stage.block and run.heater_set else None,
    )
