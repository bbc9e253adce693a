"""What a stage that runs past its planned end does to the rest of the published plan."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from planner.domain.bay_time import round_up
from planner.domain.breach import Breach
from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.work import Job
from planner.models import Plan
from planner.scheduling.verify import schedule_verify
from planner.selectors.overruns import Overrun
from planner.selectors.plans import PlanContent, plan_content_get

_OWN_LENGTH = frozenset({"length", "locked", "breaks"})
"""Rules that the stretched stage breaks by being stretched: they say nothing new."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OverrunEffect:
    """If nobody plans again: when the tyre itself is ready, and what else then breaks a rule.

    `breaches` are in the words of the checker, `others` the jobs that they concern beside this one.
    """

    overrun: Overrun
    planned_at: datetime
    ready_at: datetime
    breaches: tuple[str, ...]
    others: tuple[str, ...]

    @property
    def minutes_later(self) -> int:
        """How much later the tyre is ready [min]."""
        return int((self.ready_at - self.planned_at).total_seconds()) // 60


def overrun_effect_list(
    *, plan: Plan | None, overruns: Sequence[Overrun], now: datetime
) -> list[OverrunEffect]:
    """The effect of each overrun by itself, as if its stage ended now; nothing without overruns."""
    if plan is None or not overruns:
        return []
    content = plan_content_get(plan=plan)
    return [_effect(content, overrun, now) for overrun in overruns]


def _effect(content: PlanContent, overrun: Overrun, now: datetime) -> OverrunEffect:
    problem = content.problem
    start = problem.origin.astimezone(UTC)
    minute = round_up(-((start - now) // timedelta(minutes=1)), problem.grid_minutes)
    planned = next(each for each in content.plan.schedule.jobs if each.id == overrun.job)
    job = next(each for each in problem.jobs if each.id == overrun.job)
    at = next(at for at, stage in enumerate(planned.stages) if stage.name == overrun.run.name)
    pushed = replace(planned, stages=_pushed(job, planned, at, minute, problem.grid_minutes))
    found = list(_breaches(content, job, pushed, at))
    return OverrunEffect(
        overrun=overrun,
        planned_at=start + timedelta(minutes=planned.end),
        ready_at=start + timedelta(minutes=pushed.end),
        breaches=tuple(dict.fromkeys(breach.message for breach in found)),
        others=tuple(sorted({breach.job for breach in found if breach.job} - {planned.id})),
    )


def _pushed(job: Job, planned: PlannedJob, at: int, ends: int, grid_minutes: int) -> tuple[PlannedStage, ...]:
    """The job's stages with the one at `at` ending at `ends`; those after it make just enough way."""
    stages = [*planned.stages[:at], replace(planned.stages[at], end=ends)]
    for before, stage in zip(job.stages[at:], planned.stages[at + 1 :], strict=False):
        start = max(stage.start, stages[-1].end + round_up(before.min_wait_after, grid_minutes))
        stages.append(replace(stage, start=start, end=start + stage.end - stage.start))
    return tuple(stages)


def _breaches(content: PlanContent, job: Job, pushed: PlannedJob, at: int) -> Iterator[Breach]:
    """What is broken with the stretched job in its place, beside the stretched stage's own length."""
    problem, schedule = content.problem, content.plan.schedule
    minutes = pushed.stages[at].end - pushed.stages[at].start
    stages = (*job.stages[:at], replace(job.stages[at], minutes=minutes), *job.stages[at + 1 :])
    changed = replace(
        problem,
        jobs=tuple(replace(each, stages=stages) if each.id == job.id else each for each in problem.jobs),
        locked=tuple(each for each in problem.locked if each.id != job.id),
    )
    placed = tuple(pushed if each.id == job.id else each for each in schedule.jobs)
    for breach in schedule_verify(changed, replace(schedule, jobs=placed)):
        if not (breach.rule in _OWN_LENGTH and breach.job in (job.id, None)):
            yield breach
