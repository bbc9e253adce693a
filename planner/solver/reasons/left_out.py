"""Reasons for every job that a plan leaves out."""

from planner.domain.plan import Reason, Schedule, UnplannedJob
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.solver.bay import Bay, bay_of
from planner.solver.objective import lateness_left_out
from planner.solver.pieces import TyreWork
from planner.solver.reasons.crowded import (
    Crowd,
    crowd_of,
    crowded_reasons,
    fitted_reason,
    plain_reason,
    ready_at,
)
from planner.solver.reasons.impossible import impossible_reasons
from planner.solver.state import BayState

MOST_RELAXED = 40
"""For so many of the costliest jobs each thing is relaxed by itself; the others get the plain figure."""


def reasons_for(problem: BayProblem, schedule: Schedule) -> tuple[UnplannedJob, ...]:
    """Each job that the schedule leaves out, with at least one true reason; in the problem's order."""
    bay = bay_of(problem)
    planned = {job.id for job in schedule.jobs}
    left_out = [work for id_, work in bay.works.items() if id_ not in planned]
    if not left_out:
        return ()
    search = _Search(bay, schedule, left_out)
    return tuple(UnplannedJob(job=work.job.id, reasons=search.reasons(work)) for work in left_out)


class _Search:
    """The reasons of one plan, cheapest test first."""

    def __init__(self, bay: Bay, schedule: Schedule, left_out: list[TyreWork]) -> None:
        locked = {job.id for job in bay.problem.locked}
        self._planned = {job.id for job in schedule.jobs}
        self._empty = BayState(bay=bay, free=(), held=tuple(j for j in schedule.jobs if j.id in locked))
        self._crowd: Crowd = crowd_of(bay, schedule)
        dearest = sorted(left_out, key=lambda work: -lateness_left_out(bay.problem, work.job))
        self._relaxed = {work.job.id for work in dearest[:MOST_RELAXED]}

    def reasons(self, work: TyreWork) -> tuple[Reason, ...]:
        """At least one, each true by itself."""
        alone = ready_at(self._empty, work)
        if alone is None:
            return impossible_reasons(self._empty, work)
        missing = [earlier for earlier in work.job.after if earlier not in self._planned]
        if missing:
            return (_predecessor_out(missing),)
        fitted = fitted_reason(self._crowd, work)
        if fitted is not None:
            return (fitted,)
        if work.job.id in self._relaxed:
            return crowded_reasons(self._crowd, work)
        return (plain_reason(self._crowd, work, alone),)


def _predecessor_out(missing: list[str]) -> Reason:
    return Reason(
        code="predecessor_out",
        message=_("It must follow {after} on the same tyre, which is left out itself.", after=tuple(missing)),
        figures={"after": ", ".join(missing)},
    )
