"""Take one rule out of the model: somewhere the checker must object to the plan."""

import pytest

from planner.domain.bay_time import Span
from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift, Technician
from planner.scheduling.verify import schedule_verify
from planner.solver.bay import bay_of
from planner.solver.build import build_model, whole_state
from planner.solver.extract import schedule_from
from planner.solver.limits import SolveLimits
from planner.solver.objective import objective_of
from planner.solver.rules import ALL
from planner.solver.run import run
from tests.lib.bays import DAY, EVENING, HOUR, MORNING, bay, hands_on, heater_set, job, position, technician

TWO_SETS = (heater_set("H1"), heater_set("H2"))
TWO_PLACES = (position("C1", "cure"), position("C2", "cure"), position("P1", "prep"))
EITHER = {"heater_sets": ("H1", "H2"), "positions": {"cure": ("C1", "C2"), "prep": ("P1",)}}
WIDE = {"heater_sets": TWO_SETS, "positions": TWO_PLACES}
THREE = tuple(technician(name) for name in ("Ada", "Bob", "Cid"))
PAIR = (job("J1", **EITHER, needed_by=0), job("J2", **EITHER, needed_by=0))
LAZY = technician("Ada", start=MORNING, end=EVENING)
LATE_ATTENDANT = Technician(
    id="Ada", skills=frozenset({"cure"}), shifts=(Shift(span=Span(10 * HOUR, EVENING)),)
)
EARLY_HAND = Technician(id="Bob", skills=frozenset({"prep"}), shifts=(Shift(span=Span(MORNING, EVENING)),))
RELAY = tuple(
    Technician(id=name, skills=frozenset({"prep", "cure"}), shifts=(Shift(span=Span(start, end)),))
    for name, start, end in (("Ada", MORNING, 8 * HOUR), ("Bob", 8 * HOUR, EVENING))
)

CASES: dict[str, BayProblem] = {
    "release": bay(job(released_at=9 * HOUR)),
    "shift": bay(job("J1", hands_on("buff", 60), needed_by=0)),
    "one_stage": bay(
        job("J1", hands_on("buff", 60), needed_by=0), job("J2", hands_on("buff", 60), needed_by=0)
    ),
    "waits": bay(
        job("J0", hands_on("buff", 120), needed_by=0, priority=100),
        job("J1", hands_on("cement", 30, min_wait_after=60), hands_on("fill", 30), needed_by=0),
    ),
    "after": bay(
        job("J1", hands_on("buff", 120), needed_by=DAY),
        job("J2", hands_on("buff", 30), needed_by=0, after=("J1",)),
    ),
    "heater_set": bay(
        *(job(f"J{n}", positions=EITHER["positions"], needed_by=0) for n in (1, 2)),
        positions=TWO_PLACES,
        technicians=THREE,
    ),
    "position": bay(
        *(job(f"J{n}", heater_sets=("H1", "H2"), needed_by=0) for n in (1, 2)),
        heater_sets=TWO_SETS,
        technicians=THREE,
    ),
    "closures": bay(heater_sets=(heater_set("H1", closed=(Span(0, 9 * HOUR),)),)),
    "watch": bay(job(needed_by=0), technicians=(EARLY_HAND, LATE_ATTENDANT)),
    "attendant_load": bay(*PAIR, **WIDE, technicians=(EARLY_HAND, LAZY)),
    "attendant_work": bay(
        job("J1", needed_by=0),
        job("J2", hands_on("buff", 60), needed_by=0),
        rules={"attendant_may_work": False},
    ),
    "handover": bay(job(needed_by=0), technicians=RELAY, rules={"handover_allowed": False}),
    "power": bay(*PAIR, **WIDE, technicians=THREE, rules={"power_limit_kw": 8.0}),
    "channels": bay(*PAIR, **WIDE, technicians=THREE, rules={"channel_limit": 2}),
    "power_off": bay(power_off=(Span(6 * HOUR, 9 * HOUR),)),
}

TOGETHER = {"watch": {"watch", "attendant_load"}, "shift": {"shift", "one_stage"}}
"""A load counts nobody there as no capacity: it keeps the presence too, and must go with it."""


def _planned(problem: BayProblem, without: str | None) -> Schedule:
    out = TOGETHER.get(without or "", {without})
    model = build_model(whole_state(bay_of(problem)), [rule for rule in ALL if rule.stem not in out])
    objective = objective_of(model)
    model.cp.minimize(1_000_000 * objective.lateness + objective.flow)
    found = run(model.cp, SolveLimits(work=5.0), quick=True)
    return schedule_from(model, found.solver, {})


def test_every_rule_has_a_case() -> None:
    assert {rule.stem for rule in ALL} == set(CASES)


@pytest.mark.parametrize(("stem", "problem"), CASES.items())
def test_the_checker_misses_a_rule_that_is_taken_out(stem: str, problem: BayProblem) -> None:
    assert schedule_verify(problem, _planned(problem, None)) == ()
    assert schedule_verify(problem, _planned(problem, stem)) != ()
