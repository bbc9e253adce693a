"""A bay problem made ready for the solver: pools, calendars and pieces of work, on grid steps."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner.domain.problem import BayProblem
from planner.domain.resources import Technician
from planner.domain.work import StageKind
from planner.solver.crew_calendar import CrewCalendar
from planner.solver.crews import CrewPool, crew_pools, locked_steps
from planner.solver.masks import Mask, stretch, union
from planner.solver.pieces import TyreWork, tyre_work
from planner.solver.places import PlacePool, SetPool, open_mask, position_pools, set_pools


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """What every model of one problem shares; built once [steps unless said otherwise]."""

    problem: BayProblem
    steps: int
    crews: tuple[CrewPool, ...]
    calendar: CrewCalendar
    sets: tuple[SetPool, ...]
    positions: tuple[PlacePool, ...]
    works: Mapping[str, TyreWork]
    on_watch: Mapping[str, Mask]
    powered: Mask

    @property
    def grid(self) -> int:
        """The grid [min]."""
        return self.problem.grid_minutes

    @property
    def whole(self) -> Mask:
        """Every step of the horizon."""
        return stretch(0, self.steps)


def bay_of(problem: BayProblem) -> Bay:
    """Make the problem ready."""
    crews = crew_pools(problem, named_technicians(problem))
    return Bay(
        problem=problem,
        steps=problem.horizon_end // problem.grid_minutes,
        crews=crews,
        calendar=CrewCalendar(crews),
        sets=set_pools(problem),
        positions=position_pools(problem),
        works=_works(problem),
        on_watch={technician.id: presence(problem, technician) for technician in attendants(problem)},
        powered=open_mask(problem, problem.power_off),
    )


def attendants(problem: BayProblem) -> tuple[Technician, ...]:
    """The technicians who may attend a cure."""
    return tuple(one for one in problem.technicians if problem.rules.watch_skill in one.skills)


def watched_kinds(problem: BayProblem) -> frozenset[StageKind]:
    """The kinds of stage that somebody must attend."""
    if problem.rules.watch_cool_down:
        return frozenset({StageKind.ENERGISED, StageKind.PRESSURISED})
    return frozenset({StageKind.ENERGISED})


def named_technicians(problem: BayProblem) -> frozenset[str]:
    """Those who must not be pooled: with locked work, or with whole watches to keep apart from work."""
    named = {name for job in problem.locked for stage in job.stages for name in stage.technicians}
    if not problem.rules.handover_allowed and not problem.rules.attendant_may_work:
        named |= {technician.id for technician in attendants(problem)}
    return frozenset(named)


def presence(problem: BayProblem, technician: Technician) -> Mask:
    """The steps in which the technician may attend a cure."""
    grid, on_shift = problem.grid_minutes, 0
    for shift in technician.shifts:
        span = shift.span.inward(grid)
        if span is not None:
            on_shift |= stretch(span.start // grid, span.end // grid)
    away: Iterable[tuple[int, int]] = ()
    if not problem.rules.watch_through_breaks:
        breaks = (pause.outward(grid) for shift in technician.shifts for pause in shift.breaks)
        away = ((pause.start // grid, pause.end // grid) for pause in breaks)
    busy = () if problem.rules.attendant_may_work else locked_steps(problem, technician.id)
    return on_shift & ~union(away) & ~union(busy)


def _works(problem: BayProblem) -> dict[str, TyreWork]:
    locks = {job.id: {stage.name: stage for stage in job.stages} for job in problem.locked}
    works = {}
    for job in problem.jobs:
        by_name = locks.get(job.id, {})
        locked = {
            index: by_name[stage.name] for index, stage in enumerate(job.stages) if stage.name in by_name
        }
        works[job.id] = tyre_work(problem, job, locked)
    return works
