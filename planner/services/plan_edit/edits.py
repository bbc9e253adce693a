"""What a supervisor does to a draft by hand: move, lock, unlock, leave out, put first."""

from planner.domain.errors import ConflictError, UserError
from planner.domain.permissions import Action
from planner.domain.plan import PlannedJob
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.models import Plan, User
from planner.selectors.access import require_on_site
from planner.services.plan_edit.moving import Move, moved_group, on_grid, planned_job
from planner.services.plan_edit.nearest import nearest_move, placed_move
from planner.services.plan_edit.placing import place
from planner.services.plan_edit.storing import BY_HAND, changed_draft, draft_content


class RefusedMoveError(UserError):
    """The move would break rules: `breaches` says which; `nearest` holds, where something near does."""

    def __init__(self, breaches: tuple[str, ...], nearest: Move | None) -> None:
        self.breaches, self.nearest = breaches, nearest
        super().__init__(_("that would break a rule: {breaches:list}", breaches=breaches))


def plan_move(*, user: User, draft: Plan, move: Move) -> Plan:
    """Move a stage or a heat block; the new draft. RefusedMoveError, and nothing stored, on a breach."""
    require_on_site(user=user, site=draft.site, action=Action.PLAN_BUILD)
    content = draft_content(draft)
    problem, schedule = content.problem, content.plan.schedule
    _refuse_locked(problem, move)
    wanted = Move(
        job=move.job, stage=_first_of_group(problem, move), start=on_grid(problem, move.start),
        heater_set=move.heater_set, position=move.position, technician=move.technician,
        instead_of=move.instead_of,
    )  # fmt: skip
    placed = placed_move(problem, schedule, wanted)
    if placed.schedule is None:
        raise RefusedMoveError(placed.breaches, nearest_move(problem, schedule, wanted))
    return changed_draft(user=user, draft=draft, content=content, schedule=placed.schedule)


def plan_lock(*, user: User, draft: Plan, job: str) -> Plan:
    """Fix a job where it stands; the new draft."""
    require_on_site(user=user, site=draft.site, action=Action.PLAN_BUILD)
    content = draft_content(draft)
    planned = planned_job(content.plan.schedule, job)
    others = tuple(each for each in content.problem.locked if each.id != job)
    return changed_draft(
        user=user, draft=draft, content=content, schedule=content.plan.schedule, locked=(*others, planned)
    )


def plan_unlock(*, user: User, draft: Plan, job: str) -> Plan:
    """Let a job move again, but for what was begun before the plan's days; the new draft."""
    require_on_site(user=user, site=draft.site, action=Action.PLAN_BUILD)
    content = draft_content(draft)
    others = tuple(each for each in content.problem.locked if each.id != job)
    begun = tuple(_begun(each) for each in content.problem.locked if each.id == job and _has_begun(each))
    return changed_draft(
        user=user, draft=draft, content=content, schedule=content.plan.schedule, locked=(*others, *begun)
    )


def plan_leave_out(*, user: User, draft: Plan, job: str) -> Plan:
    """Take a job out of the plan, with what waits for it; ConflictError where it is in hand."""
    require_on_site(user=user, site=draft.site, action=Action.PLAN_BUILD)
    content = draft_content(draft)
    planned_job(content.plan.schedule, job)
    gone = _with_followers(content.problem, job)
    if any(each.id in gone for each in content.problem.locked):
        raise ConflictError(
            _("{job} is locked or in hand: unlock it first; begun work can't be left out", job=job)
        )
    placed = place(content.problem, [each for each in content.plan.schedule.jobs if each.id not in gone])
    if placed.schedule is None:
        raise RefusedMoveError(placed.breaches, None)
    return changed_draft(user=user, draft=draft, content=content, schedule=placed.schedule, reason=BY_HAND)


def _refuse_locked(problem: BayProblem, move: Move) -> None:
    if any(each.id == move.job for each in problem.locked):
        raise ConflictError(
            _("{job} is locked or in hand: unlock it first; begun work can't be moved", job=move.job)
        )


def _first_of_group(problem: BayProblem, move: Move) -> str:
    job = next((each for each in problem.jobs if each.id == move.job), None)
    return job.stages[moved_group(job, move.stage).start].name if job else move.stage


def _has_begun(job: PlannedJob) -> bool:
    return job.stages[0].start < 0


def _begun(job: PlannedJob) -> PlannedJob:
    """What was begun before the horizon is work in hand, whoever locks or unlocks."""
    return PlannedJob(id=job.id, stages=tuple(stage for stage in job.stages if stage.start < 0))


def _with_followers(problem: BayProblem, job: str) -> set[str]:
    gone = {job}
    while more := {each.id for each in problem.jobs if gone & set(each.after)} - gone:
        gone |= more
    return gone
