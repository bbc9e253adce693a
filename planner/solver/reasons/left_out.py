"""Reasons for every job that a plan leaves out."""

from planner.domain.plan import Reason, Schedule, UnplannedJob
from planner.domain.problem import BayProblem
from planner.solver.bay import bay_of
from planner.solver.build import open_starts
from planner.solver.pieces import TyreWork
from planner.solver.reasons.crowded import Crowd, crowd_of, crowded_reasons
from planner.solver.reasons.impossible import impossible_reasons
from planner.solver.rules import ALL
from planner.solver.state import BayState


def reasons_for(problem: BayProblem, schedule: Schedule) -> tuple[UnplannedJob, ...]:
    """Each job that the schedule leaves out, with at least one true reason; in the problem's order."""
    bay, planned = bay_of(problem), {job.id for job in schedule.jobs}
    locked = {job.id for job in problem.locked}
    empty = BayState(bay=bay, free=(), held=tuple(job for job in schedule.jobs if job.id in locked))
    crowd = crowd_of(bay, schedule)
    return tuple(
        UnplannedJob(job=id_, reasons=_reasons(empty, crowd, work, planned))
        for id_, work in bay.works.items()
        if id_ not in planned
    )


def _reasons(empty: BayState, crowd: Crowd, work: TyreWork, planned: set[str]) -> tuple[Reason, ...]:
    if open_starts(empty, work, ALL) is None:
        return impossible_reasons(empty, work)
    missing = [earlier for earlier in work.job.after if earlier not in planned]
    if missing:
        return (
            Reason(
                code="predecessor_out",
                message=f"It must follow {', '.join(missing)} on the same tyre, which is left out itself.",
                figures={"after": ", ".join(missing)},
            ),
        )
    return crowded_reasons(crowd, work)
