"""The levers that a bay has: one more of something, with a name to ask for it again."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from planner.domain.errors import InvalidValueError
from planner.domain.problem import BayProblem
from planner.domain.sentences import Sentence, _
from planner.solver.levers.changes import (
    longer_shifts,
    more_power,
    more_tyres_per_attendant,
    one_more_position,
    one_more_set,
    one_more_technician,
)
from planner.solver.places import position_pools, set_pools

LONGER_SHIFTS_MIN = (30, 60)
MORE_POWER_KW = 5.0


@dataclass(frozen=True, kw_only=True)
class Lever:
    """One change that a supervisor could ask for; `id` names it in a queue, `words` on a page."""

    id: str
    words: Sentence
    change: Callable[[BayProblem], BayProblem]


def levers_for(problem: BayProblem) -> tuple[Lever, ...]:
    """Every lever of a bay: each kind of set, grade of technician and kind of position once."""
    return (
        *_set_levers(problem),
        *_technician_levers(problem),
        *_shift_levers(),
        *_position_levers(problem),
        *_supply_levers(problem),
        Lever(
            id="attendant_load", words=_("One more tyre for each attendant"), change=more_tyres_per_attendant
        ),
    )


def lever_named(problem: BayProblem, id_: str) -> Lever:
    """The lever of that id. Raises InvalidValueError where the bay has none."""
    found = next((lever for lever in levers_for(problem) if lever.id == id_), None)
    if found is None:
        raise InvalidValueError(_("this bay has no lever {id_}", id_=id_))
    return found


def _set_levers(problem: BayProblem) -> Iterator[Lever]:
    told = set()
    for pool in set_pools(problem):
        like = pool.members[0]
        users = frozenset(job.id for job in problem.jobs if like in job.heater_sets)
        if users and (users, pool.power_kw, pool.channels) not in told:
            told.add((users, pool.power_kw, pool.channels))
            yield Lever(
                id=f"set:{like}",
                words=_("One more heater set like {like}", like=like),
                change=partial(one_more_set, like=like),
            )


def _technician_levers(problem: BayProblem) -> Iterator[Lever]:
    told = set()
    for technician in problem.technicians:
        if technician.skills and technician.skills not in told:
            told.add(technician.skills)
            yield Lever(
                id=f"technician:{technician.id}",
                words=_(
                    "One more technician like {like} ({skills})",
                    like=technician.id,
                    skills=sorted(technician.skills),
                ),
                change=partial(one_more_technician, like=technician.id),
            )


def _shift_levers() -> Iterator[Lever]:
    for minutes in LONGER_SHIFTS_MIN:
        yield Lever(
            id=f"shift:{minutes}",
            words=_("Every shift {minutes} min longer", minutes=minutes),
            change=partial(longer_shifts, minutes=minutes),
        )


def _position_levers(problem: BayProblem) -> Iterator[Lever]:
    kinds_of, told = {position.id: position.kinds for position in problem.positions}, set()
    for pool in position_pools(problem):
        like = pool.members[0]
        if kinds_of[like] not in told:
            told.add(kinds_of[like])
            yield Lever(
                id=f"position:{like}",
                words=_("One more position for {kinds}", kinds=sorted(kinds_of[like])),
                change=partial(one_more_position, like=like),
            )


def _supply_levers(problem: BayProblem) -> Iterator[Lever]:
    if problem.rules.power_limit_kw is not None:
        yield Lever(
            id="power",
            words=_("{more:g} kW more", more=MORE_POWER_KW),
            change=partial(more_power, kilowatts=MORE_POWER_KW),
        )
