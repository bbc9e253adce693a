"""Pure changes to a bay problem: what the bay would be with a little more of something."""

from dataclasses import replace
from typing import TypeVar

from planner.domain.bay_time import Span
from planner.domain.errors import InvalidValueError
from planner.domain.problem import BayProblem
from planner.domain.resources import HeaterSet, Position, Shift, Technician
from planner.domain.sentences import _

Thing = TypeVar("Thing", HeaterSet, Technician, Position)


def one_more_set(problem: BayProblem, like: str) -> BayProblem:
    """The bay with a second heater set of that kind, never closed, for the same jobs."""
    model = _one(problem.heater_sets, like)
    extra = replace(model, id=_new_id(like, {one.id for one in problem.heater_sets}), closed=())
    jobs = (
        replace(job, heater_sets=(*job.heater_sets, extra.id)) if like in job.heater_sets else job
        for job in problem.jobs
    )
    return replace(problem, heater_sets=(*problem.heater_sets, extra), jobs=tuple(jobs))


def one_more_technician(problem: BayProblem, like: str) -> BayProblem:
    """The bay with another technician of the same skills and roster."""
    model = _one(problem.technicians, like)
    extra = replace(model, id=_new_id(like, {one.id for one in problem.technicians}))
    return replace(problem, technicians=(*problem.technicians, extra))


def one_more_position(problem: BayProblem, like: str) -> BayProblem:
    """The bay with another floor position of the same kinds, never closed, for the same jobs."""
    model = _one(problem.positions, like)
    extra = replace(model, id=_new_id(like, {one.id for one in problem.positions}), closed=())
    jobs = tuple(
        replace(
            job,
            positions={kind: (*ids, extra.id) if like in ids else ids for kind, ids in job.positions.items()},
        )
        for job in problem.jobs
    )
    return replace(problem, positions=(*problem.positions, extra), jobs=jobs)


def longer_shifts(problem: BayProblem, minutes: int) -> BayProblem:
    """The bay with every shift that many minutes longer, as far as the same person's next one allows."""
    return replace(problem, technicians=tuple(_longer(one, minutes) for one in problem.technicians))


def _longer(technician: Technician, minutes: int) -> Technician:
    shifts = sorted(technician.shifts, key=lambda shift: shift.span)
    latest = [*(shift.span.start for shift in shifts[1:]), None]
    # Not strict: somebody who is never on shift has no last shift either.
    limited = zip(shifts, latest, strict=False)
    return replace(technician, shifts=tuple(_ending_by(shift, minutes, limit) for shift, limit in limited))


def _ending_by(shift: Shift, minutes: int, limit: int | None) -> Shift:
    end = (
        shift.span.end + minutes
        if limit is None
        else min(shift.span.end + minutes, max(limit, shift.span.end))
    )
    return replace(shift, span=Span(shift.span.start, end))


def more_power(problem: BayProblem, kilowatts: float) -> BayProblem:
    """The bay with a larger supply; unchanged where it has no limit."""
    limit = problem.rules.power_limit_kw
    if limit is None:
        return problem
    return replace(problem, rules=replace(problem.rules, power_limit_kw=limit + kilowatts))


def more_tyres_per_attendant(problem: BayProblem, tyres: int = 1) -> BayProblem:
    """The bay where one attendant may watch more tyres at once."""
    rules = replace(problem.rules, cures_per_attendant=problem.rules.cures_per_attendant + tyres)
    return replace(problem, rules=rules)


def _one(those: tuple[Thing, ...], id_: str) -> Thing:
    found = next((one for one in those if one.id == id_), None)
    if found is None:
        raise InvalidValueError(_("there is no {id_} in this bay", id_=id_))
    return found


def _new_id(like: str, taken: set[str]) -> str:
    number = 2
    while f"{like}+{number}" in taken:
        number += 1
    return f"{like}+{number}"
