"""What is tested of every rule of the bay, with each planner: the shape of `tests/spec/<stem>/`."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import ClassVar

import pytest

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.scheduling.dispatch import dispatch
from planner.scheduling.verify import schedule_verify
from planner.solver.bay import bay_of
from planner.solver.build import build_model, whole_state
from planner.solver.extract import schedule_from
from planner.solver.full import solve_full
from planner.solver.limits import SolveLimits
from planner.solver.objective import objective_of
from planner.solver.rules import ALL
from planner.solver.run import run
from planner.solver.solve import solve

LITTLE = SolveLimits(work=2.0, workers=1)
Planner = Callable[[BayProblem], Schedule]


def _dispatched(problem: BayProblem) -> Schedule:
    return dispatch(problem, restarts=0)


def _whole_model(problem: BayProblem) -> Schedule:
    found, _, _ = solve_full(problem, limits=LITTLE)
    assert found is not None
    return found


def _searched(problem: BayProblem) -> Schedule:
    return solve(problem, start=dispatch(problem, restarts=0), limits=LITTLE).schedule


PLANNERS: Mapping[str, Planner] = MappingProxyType(
    {"dispatch": _dispatched, "whole model": _whole_model, "search": _searched}
)


@dataclass(frozen=True, slots=True)
class Case:
    """A problem, and the jobs that any planner plans with their ends [min]; all others are left out."""

    problem: BayProblem
    ends: Mapping[str, int]


def schedule_without(stems: Collection[str], problem: BayProblem) -> Schedule:
    """What the whole model answers with rules taken out of it."""
    model = build_model(whole_state(bay_of(problem)), [rule for rule in ALL if rule.stem not in stems])
    model.cp.minimize(objective_of(model).lateness)
    result = run(model.cp, LITTLE)
    assert result.has_plan
    return schedule_from(model, result.solver, {})


class RuleSpec:
    """Three cases that each planner must answer alike, and a schedule that breaks this rule and no other."""

    stem: ClassVar[str]
    feasible: ClassVar[Case]
    boundary: ClassVar[Case]
    infeasible: ClassVar[Case]
    broken: ClassVar[tuple[BayProblem, Schedule]]

    @pytest.mark.parametrize("planner", PLANNERS)
    @pytest.mark.parametrize("name", ["feasible", "boundary", "infeasible"])
    def test_every_planner_keeps_it(self, planner: str, name: str) -> None:
        case: Case = getattr(self, name)
        schedule = PLANNERS[planner](case.problem)
        assert schedule_verify(case.problem, schedule) == ()
        assert {job.id: job.end for job in schedule.jobs} == case.ends

    def test_the_checker_names_it_alone(self) -> None:
        assert {breach.rule for breach in schedule_verify(*self.broken)} == {self.stem}


class ModelledRuleSpec(RuleSpec):
    """A rule that the solver states by itself: the checker objects to what the model does without it.

    `also_out` names the rules that keep this one as well, and must go with it; `objection` the rule that the
    checker sees broken, where it is another one; `tempting` a problem other than the infeasible case.
    """

    also_out: ClassVar[tuple[str, ...]] = ()
    objection: ClassVar[str | None] = None
    tempting: ClassVar[BayProblem | None] = None

    def test_without_it_the_checker_objects(self) -> None:
        problem = self.tempting or self.infeasible.problem
        breaches = schedule_verify(problem, schedule_without((self.stem, *self.also_out), problem))
        assert (self.objection or self.stem) in {breach.rule for breach in breaches}
