"""Reasons for every planned job that is ready too late."""

from planner.domain.plan import PlannedJob, Reason, Schedule
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.solver.bay import Bay, bay_of
from planner.solver.objective import lateness_at
from planner.solver.pieces import TyreWork
from planner.solver.reasons.crowded import MOST_REASONS, RESOURCES, ready_at
from planner.solver.reasons.words import local_time
from planner.solver.state import BayState

MOST_RELAXED = 40
"""For so many of the latest jobs each resource is relaxed by itself; the others get the plain figure."""


def late_reasons_for(problem: BayProblem, schedule: Schedule) -> dict[str, tuple[Reason, ...]]:
    """Each planned job that ends after it is needed, with what keeps it from being ready sooner."""
    bay = bay_of(problem)
    late = [job for job in schedule.jobs if job.end > bay.works[job.id].job.needed_by]
    worst = sorted(late, key=lambda job: -lateness_at(bay.works[job.id].job, job.end))[:MOST_RELAXED]
    relaxed = {job.id for job in worst}
    return {job.id: _reasons(bay, schedule, job, job.id in relaxed) for job in late}


def _reasons(bay: Bay, schedule: Schedule, planned: PlannedJob, relax: bool) -> tuple[Reason, ...]:
    work = bay.works[planned.id]
    alone = ready_at(BayState(bay=bay, free=()), work)
    if alone is None or alone > work.job.needed_by:
        return (_too_late_anyway(bay, work, planned.end if alone is None else alone),)
    others = tuple(job for job in schedule.jobs if job.id != planned.id)
    helps = []
    for resource in RESOURCES if relax else ():
        ready = ready_at(BayState(bay=bay, free=(), held=others, forgiven=frozenset({resource})), work)
        if ready is not None and ready < planned.end:
            helps.append((ready, resource))
    found = [_held_up(bay, resource, ready, planned.end) for ready, resource in sorted(helps)[:MOST_REASONS]]
    return tuple(found) or (_several(bay, alone),)


def _too_late_anyway(bay: Bay, work: TyreWork, alone: int) -> Reason:
    return Reason(
        code="needed_too_soon",
        message=_(
            "Even with the bay to itself it could be ready no sooner than {ready:moment}: "
            "{late_min:duration} too late.",
            ready=local_time(bay.problem, alone),
            late_min=max(alone - work.job.needed_by, 0),
        ),
        figures={"ready_min": alone, "needed_min": work.job.needed_by},
    )


def _held_up(bay: Bay, resource: str, ready: int, end: int) -> Reason:
    return Reason(
        code="held_up",
        message=_(
            "{what:phrase}. With more it could be ready {sooner_min:duration} sooner, {ready:moment} "
            "at best.",
            what=RESOURCES[resource],
            sooner_min=end - ready,
            ready=local_time(bay.problem, ready),
        ),
        figures={"resource": resource, "ready_min": ready},
    )


def _several(bay: Bay, alone: int) -> Reason:
    return Reason(
        code="held_up",
        message=_(
            "Other tyres hold more than one of the things that it needs sooner; with the bay to "
            "itself it could be ready {ready:moment}.",
            ready=local_time(bay.problem, alone),
        ),
        figures={"resource": None, "ready_min": alone},
    )
