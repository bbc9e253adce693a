"""Minutes from a route and an injury, limits, parts and permissions."""

from datetime import date
from decimal import Decimal

import pytest

from planner.domain.errors import InvalidValueError, NotAllowedError
from planner.domain.heater_parts import PartKind, SetPart, set_faults
from planner.domain.injury import Injury, InjuryMeasure, Zone
from planner.domain.permissions import PERMISSIONS, Action, Role, may, require
from planner.domain.routing import InjuryLimit, StageTemplate
from planner.domain.states import PartState
from planner.domain.work import StageKind

INJURY = Injury(zone=Zone.SIDEWALL, length_mm=200, width_mm=150, depth_mm=35, plies=2)


@pytest.mark.parametrize(
    ("unit", "minutes"),
    [
        (InjuryMeasure.NOTHING, 60),
        (InjuryMeasure.DEPTH_MM, 64),  # 60 + 0.1 · 35 = 63.5, rounded up
        (InjuryMeasure.AREA_CM2, 90),  # 60 + 0.1 · 20 · 15
        (InjuryMeasure.VOLUME_CM3, 165),  # 60 + 0.1 · 20 · 15 · 3.5
        (InjuryMeasure.LENGTH_CM, 62),
        (InjuryMeasure.PLIES, 61),  # 60.2, rounded up
    ],
)
def test_minutes_grow_with_the_injury_and_round_up(unit: InjuryMeasure, minutes: int) -> None:
    template = StageTemplate(
        name="Cure", kind=StageKind.ENERGISED, base_minutes=60, minutes_per_unit=Decimal("0.1"), unit=unit
    )
    assert template.stage_for(INJURY).minutes == minutes


@pytest.mark.parametrize(("largest", "past"), [(35, False), (34, True), (None, False)])
def test_past_the_chart_is_told(largest: int | None, past: bool) -> None:
    template = StageTemplate(
        name="Cure",
        kind=StageKind.ENERGISED,
        base_minutes=60,
        unit=InjuryMeasure.DEPTH_MM,
        largest_units=largest,
    )
    assert template.past_chart(INJURY) is past


def test_a_limit_names_both_figures() -> None:
    limit = InjuryLimit(source="the site's table", largest_depth_mm=30, largest_length_mm=200)
    assert limit.faults(INJURY) == ("its depth of 35 mm is over the limit of 30 mm (the site's table)",)


def test_an_injury_has_a_size() -> None:
    with pytest.raises(InvalidValueError, match="at least 1 mm"):
        Injury(zone=Zone.CROWN, length_mm=0, width_mm=1, depth_mm=1)


def parts(**changed: SetPart) -> tuple[SetPart, ...]:
    whole = {kind.value: SetPart(kind=kind, state=PartState.FIT) for kind in PartKind}
    return tuple((whole | changed).values())


def test_a_whole_set_has_no_fault() -> None:
    assert set_faults(parts(), date(2026, 3, 2)) == ()


def test_a_part_out_or_missing_takes_the_set_out() -> None:
    day = date(2026, 3, 2)
    out = SetPart(kind=PartKind.INSIDE_BAG, state=PartState.OUT)
    assert set_faults(parts(inside_bag=out), day) == ("its inside bag is out",)
    assert set_faults(parts()[:-1], day) == ("it has no frame",)


@pytest.mark.parametrize(("day", "faults"), [(1, 0), (2, 0), (3, 1)])
def test_an_inspection_holds_through_its_last_day(day: int, faults: int) -> None:
    part = SetPart(kind=PartKind.FRAME, state=PartState.FIT, inspection_due_on=date(2026, 3, 2))
    assert len(set_faults(parts(frame=part), date(2026, 3, day))) == faults


@pytest.mark.parametrize("action", list(Action))
def test_both_of_a_pair_read_one_table(action: Action) -> None:
    for role in Role:
        assert may(role, action) is (role in PERMISSIONS[action])
        if not may(role, action):
            with pytest.raises(NotAllowedError, match=r"only an? "):
                require(role, action)


def test_a_stranger_may_do_nothing() -> None:
    assert not any(may(None, action) for action in Action)
