"""Why a job that fits an empty bay does not fit beside the planned ones: what the others hold of it."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.domain.plan import PlannedJob, Reason, Schedule
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.solver.bay import Bay
from planner.solver.build import open_starts
from planner.solver.masks import first_of
from planner.solver.pieces import TyreWork
from planner.solver.reasons.exact import LONGER_MIN, Exact
from planner.solver.reasons.words import local_time
from planner.solver.rules import ALL
from planner.solver.state import BayState

RESOURCES = {
    "heater_set": _("Every heater set that fits is taken at the times that would do"),
    "position": _("The floor positions that it needs are taken at the times that would do"),
    "crew": _("The technicians that it needs are at other work at the times that would do"),
    "watch": _("The attendants have their full number of tyres at the times that would do"),
    "supply": _("The power or the channels are taken by other cures at the times that would do"),
}
"""What held jobs may take, and the plain words for it."""

MOST_REASONS = 2
MOST_NAMED = 3


@dataclass(frozen=True, kw_only=True)
class Crowd:
    """One plan's bay as a newcomer finds it: as it is, and with one thing forgiven."""

    exact: Exact
    full: BayState
    eased: dict[str, BayState]


def crowd_of(bay: Bay, schedule: Schedule) -> Crowd:
    """The crowd of a plan; shared by all jobs that are left out of it."""
    return Crowd(
        exact=Exact(bay.problem, schedule),
        full=BayState(bay=bay, free=(), held=schedule.jobs),
        eased={
            resource: BayState(bay=bay, free=(), held=schedule.jobs, forgiven=frozenset({resource}))
            for resource in RESOURCES
        },
    )


def ready_at(state: BayState, work: TyreWork) -> int | None:
    """The earliest end that the job's own chain allows in that state [min]; None where it has none."""
    reach = open_starts(state, work, ALL)
    return None if reach is None else first_of(reach[-1].ends()) * state.bay.grid


def crowded_reasons(crowd: Crowd, work: TyreWork) -> tuple[Reason, ...]:
    """What would by itself make room for a job that does not fit, the surest first."""
    found = [*_in_place_of(crowd, work), *_longer_shift(crowd, work)]
    if len(found) < MOST_REASONS:
        helps = sorted(_helps(crowd, work))
        found += [_held(crowd, work, resource, ready) for ready, resource in helps[:1]]
    return tuple(found) or (_nothing_alone(crowd, work),)


def _in_place_of(crowd: Crowd, work: TyreWork) -> Iterator[Reason]:
    found = crowd.exact.ready_in_place_of(work.job.id)
    if found is not None:
        rival, ready = found
        yield Reason(
            code="out_prioritised",
            message=_(
                "{rival} stands in its place: without that tyre it would be ready {ready:moment}.",
                rival=rival,
                ready=local_time(crowd.full.bay.problem, ready),
            ),
            figures={"in_place_of": rival, "ready_min": ready},
        )


def plain_reason(crowd: Crowd, work: TyreWork, alone: int) -> Reason:
    """That others hold what a job needs which does not fit beside them, though it would by itself [min]."""
    holders = [job.id for job in crowd.full.held if job.end > work.job.released_at]
    return Reason(
        code="out_prioritised",
        message=_(
            "Planned tyres leave no room for it; with the bay to itself it could be ready no "
            "sooner than {ready:moment}.",
            ready=local_time(crowd.full.bay.problem, alone),
        ),
        figures={
            "resource": None,
            "ready_min": alone,
            "holders": len(holders),
            "held_by": ", ".join(holders),
        },
    )


def _helps(crowd: Crowd, work: TyreWork) -> Iterator[tuple[int, str]]:
    for resource, state in crowd.eased.items():
        ready = ready_at(state, work)
        if ready is not None:
            yield ready, resource


def _held(crowd: Crowd, work: TyreWork, resource: str, ready: int) -> Reason:
    problem = crowd.full.bay.problem
    holders = _holders(crowd.full, work, resource)
    ready_then = local_time(problem, ready)
    by = tuple(holders)
    what = RESOURCES[resource]
    unnamed = _(
        "{what:phrase}. With more it could be ready no sooner than {ready:moment}.",
        what=what,
        ready=ready_then,
    )
    named = _(
        "{what:phrase} ({by:names}). With more it could be ready no sooner than {ready:moment}.",
        what=what,
        by=by,
        ready=ready_then,
    )
    return Reason(
        code="out_prioritised",
        message=named if 0 < len(holders) <= MOST_NAMED else unnamed,
        figures={
            "resource": resource,
            "ready_min": ready,
            "holders": len(holders),
            "held_by": ", ".join(holders),
        },
    )


def _holders(state: BayState, work: TyreWork, resource: str) -> list[str]:
    """The planned jobs that hold of it what the job could use, in the problem's order."""
    return [job.id for job in state.held if job.end > work.job.released_at and _holds(job, work, resource)]


def _holds(job: PlannedJob, work: TyreWork, resource: str) -> bool:
    if resource in ("heater_set", "supply", "watch"):
        sets = {stage.heater_set for stage in job.stages} - {None}
        return bool(sets & set(work.job.heater_sets)) if resource == "heater_set" else bool(sets)
    if resource == "position":
        wanted = {name for ids in work.job.positions.values() for name in ids}
        return any(stage.position in wanted for stage in job.stages)
    return any(stage.technicians for stage in job.stages)


def _longer_shift(crowd: Crowd, work: TyreWork) -> Iterator[Reason]:
    found = crowd.exact.ready_with_longer_shifts(work.job.id)
    if found is not None:
        minutes, ready = found
        yield Reason(
            code="shift_too_short",
            message=_(
                "If every shift ran {longer_min:duration} longer it would be ready {ready:moment}.",
                longer_min=minutes,
                ready=local_time(crowd.full.bay.problem, ready),
            ),
            figures={"ready_min": ready},
        )


def _nothing_alone(crowd: Crowd, work: TyreWork) -> Reason:
    open_at = ready_at(crowd.full, work)
    if open_at is not None:
        return _tight(crowd.full.bay.problem, open_at)
    return Reason(
        code="out_prioritised",
        message=_(
            "No single change would make room for it: neither one more of anything that it "
            "needs, nor one planned tyre less, nor shifts {tried_min:duration} longer.",
            tried_min=LONGER_MIN[-1],
        ),
        figures={"resource": None},
    )


def fitted_reason(crowd: Crowd, work: TyreWork) -> Reason | None:
    """That the job does fit, and the search merely ended too soon to see it; None where it does not."""
    ready = crowd.exact.ready(work.job.id)
    if ready is None:
        return None
    problem = crowd.full.bay.problem
    return Reason(
        code="search_ended",
        message=_(
            "There is room for it, ready {ready:moment}; the search ended before it was placed. "
            "Plan again with more time.",
            ready=local_time(problem, ready),
        ),
        figures={"ready_min": ready},
    )


def _tight(problem: BayProblem, ready: int) -> Reason:
    return Reason(
        code="out_prioritised",
        message=_(
            "The gaps that planned tyres leave suit each of its stages but not all of them "
            "together; it could not be ready before {ready:moment}.",
            ready=local_time(problem, ready),
        ),
        figures={"resource": None, "ready_min": ready},
    )
