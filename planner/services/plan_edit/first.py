"""Put a job first: it gets the earliest place it can have, and disturbs as few others as it can."""

from planner.domain.errors import ConflictError
from planner.domain.permissions import Action
from planner.domain.plan import PlannedJob, Schedule
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.models import Plan, User
from planner.selectors.access import require_on_site
from planner.services.plan_edit.placing import place
from planner.services.plan_edit.storing import changed_draft, draft_content


def plan_put_first(*, user: User, draft: Plan, job: str) -> Plan:
    """Place a job before all but locked work; the new draft. ConflictError where it fits nowhere."""
    require_on_site(user=user, site=draft.site, action=Action.PLAN_BUILD)
    content = draft_content(draft)
    if any(each.id == job for each in content.problem.locked):
        raise ConflictError(_("{job} is locked or in hand: it stays where it stands", job=job))
    schedule = first_schedule(content.problem, content.plan.schedule, job)
    return changed_draft(user=user, draft=draft, content=content, schedule=schedule)


def first_schedule(problem: BayProblem, schedule: Schedule, job: str) -> Schedule:
    """The schedule with the job at its earliest place; whoever stands in its way is planned again."""
    locked = {each.id: _as_planned(schedule, each) for each in problem.locked}
    needed = _with_predecessors(problem, job)
    before = [each for each in schedule.jobs if each.id in needed - {job} and each.id not in locked]
    kept = [*locked.values(), *before]
    alone = place(problem, kept, free=[job])
    if alone.schedule is None or job not in {each.id for each in alone.schedule.jobs}:
        raise ConflictError(
            _(
                "{job} fits nowhere in these days, even before all others: see the reasons beside "
                "the timeline",
                job=job,
            )
        )
    kept.append(next(each for each in alone.schedule.jobs if each.id == job))
    return _refilled(problem, schedule, kept)


def _refilled(problem: BayProblem, schedule: Schedule, kept: list[PlannedJob]) -> Schedule:
    """Keep every other job that can stay beside `kept`, earliest first, and plan the rest around them."""
    for each in sorted(schedule.jobs, key=lambda planned: planned.stages[0].start):
        if each.id not in {one.id for one in kept} and place(problem, [*kept, each]).schedule is not None:
            kept.append(each)
    held = {one.id for one in kept}
    free = [each.id for each in problem.jobs if each.id not in held]
    placed = place(problem, kept, free=free)
    if placed.schedule is None:
        raise ConflictError(
            _("the others can't be planned around it: {breaches:list}", breaches=placed.breaches)
        )
    return placed.schedule


def _as_planned(schedule: Schedule, locked: PlannedJob) -> PlannedJob:
    """A locked job as it stands whole in the plan."""
    return next((each for each in schedule.jobs if each.id == locked.id), locked)


def _with_predecessors(problem: BayProblem, job: str) -> set[str]:
    after = {each.id: set(each.after) for each in problem.jobs}
    found: set[str] = set()
    waiting = {job}
    while waiting:
        found |= waiting
        waiting = {before for each in waiting for before in after.get(each, set())} - found
    return found
