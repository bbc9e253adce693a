"""State tables let only their own moves through."""

import pytest

from planner.domain.errors import InternalError
from planner.domain.states import STATE_TABLES, WORK_ORDER_STATES, StateTable, WorkOrderState, WrongStateError
from planner.management.commands.state_diagrams import PAGE, page_with_diagrams


def test_a_move_leads_on() -> None:
    assert WORK_ORDER_STATES.after("received", "decide_to_repair") == WorkOrderState.TO_REPAIR


def test_a_move_from_elsewhere_is_refused_and_names_the_open_ones() -> None:
    with pytest.raises(
        WrongStateError, match=r"in hand cannot hold \(possible now: complete, reject, take back start\)"
    ):
        WORK_ORDER_STATES.after("in_hand", "hold")


def test_an_unknown_move_is_our_own_fault() -> None:
    with pytest.raises(InternalError):
        WORK_ORDER_STATES.allows("received", "paint")


@pytest.mark.parametrize("table", STATE_TABLES, ids=lambda table: str(table.noun))
def test_every_state_is_reached_from_the_first(table: StateTable) -> None:
    reached = {table.first}
    while more := {to for (start, _), to in table.moves.items() if start in reached} - reached:
        reached |= more
    assert reached == set(type(table.first))


def test_the_diagrams_on_the_page_are_current() -> None:
    page = PAGE.read_text(encoding="utf-8")
    assert page_with_diagrams(page) == page
