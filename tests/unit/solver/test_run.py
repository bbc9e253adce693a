"""Each answer of the constraint solver has its own line, and its own test here."""

import pytest

from planner.domain.errors import InternalError
from planner.solver.door import cp_model
from planner.solver.limits import SolveLimits
from planner.solver.run import Answer, complete_hint, run


def _queue(count: int) -> cp_model.CpModel:
    """One machine and weighted ends: any order is a plan, and none of so many is soon proven best."""
    model, ends, intervals = cp_model.CpModel(), [], []
    for index in range(count):
        length = 3 + 7 * index % 11
        start = model.new_int_var(13 * index % 29, 11 * count, "")
        intervals.append(model.new_fixed_size_interval_var(start, length, ""))
        ends.append((1 + 5 * index % 9) * (start + length))
    model.add_no_overlap(intervals)
    model.minimize(sum(ends))
    return model


def test_a_proven_best_is_optimal() -> None:
    model = cp_model.CpModel()
    number = model.new_int_var(3, 9, "")
    model.minimize(number)
    found = run(model, SolveLimits(work=1.0))
    # the least number of 3 to 9 is 3, and the bound meets it
    assert (found.answer, found.objective, found.bound, found.has_plan) == (Answer.OPTIMAL, 3, 3, True)


def test_a_plan_without_a_proof_is_feasible() -> None:
    found = run(_queue(40), SolveLimits(work=0.3))
    assert found.answer is Answer.FEASIBLE
    assert found.has_plan
    assert found.bound < found.objective


def test_a_contradiction_is_infeasible() -> None:
    model = cp_model.CpModel()
    number = model.new_int_var(0, 1, "")
    model.add(number >= 2)
    found = run(model, SolveLimits(work=1.0))
    assert found.answer is Answer.INFEASIBLE
    assert not found.has_plan


def test_no_plan_in_no_time_is_out_of_time() -> None:
    found = run(_queue(40), SolveLimits(seconds=0.0))
    assert found.answer is Answer.OUT_OF_TIME
    assert not found.has_plan


def test_a_wrong_model_is_our_own_error() -> None:
    model = cp_model.CpModel()
    model.proto.variables.add().domain.extend([5, 1])
    with pytest.raises(InternalError, match="the model of the bay is wrong"):
        run(model, SolveLimits(work=1.0))


def test_a_wish_to_stop_is_heard() -> None:
    asked: list[int] = []

    def stop() -> bool:
        asked.append(1)
        return True

    found = run(_queue(200), SolveLimits(seconds=30.0), stop)
    assert asked
    assert found.answer in (Answer.FEASIBLE, Answer.OUT_OF_TIME)


def test_what_follows_from_a_hint_is_hinted_too() -> None:
    model = cp_model.CpModel()
    chosen, end = model.new_bool_var(""), model.new_int_var(0, 90, "")
    model.add(end == 40).only_enforce_if(chosen)
    model.add_hint(chosen, 1)
    complete_hint(model, SolveLimits(work=1.0))
    assert list(model.proto.solution_hint.values) == [1, 40]


def test_a_hint_that_cannot_be_completed_stays() -> None:
    model = cp_model.CpModel()
    chosen, end = model.new_bool_var(""), model.new_int_var(0, 90, "")
    model.add(end == 400).only_enforce_if(chosen)
    model.add_hint(chosen, 1)
    complete_hint(model, SolveLimits(work=1.0))
    assert list(model.proto.solution_hint.values) == [1]


def test_named_strategies_need_a_worker_each() -> None:
    for workers in (1, 2):
        found = run(_queue(5), SolveLimits(work=2.0, workers=workers), strategies=("core", "no_lp"))
        assert (found.answer, found.bound) == (Answer.OPTIMAL, found.objective)
