"""Tyre sizes are read as people write them."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.errors import InvalidValueError
from planner.domain.size_reading import size_read
from planner.domain.sizes import Construction, SizeFamily, SizeRange


@pytest.mark.parametrize(
    ("written", "normal", "family"),
    [
        ("14.00-24", "14.00-24", SizeFamily.CONVENTIONAL),
        ("27.00R49", "27.00R49", SizeFamily.CONVENTIONAL),
        ("40.00r57", "40.00R57", SizeFamily.CONVENTIONAL),
        ("20.5R25", "20.5R25", SizeFamily.WIDE_BASE),
        ("29.5-29", "29.5-29", SizeFamily.WIDE_BASE),
        ("35/65R33", "35/65R33", SizeFamily.LOW_ASPECT),
        ("59/80 R 63", "59/80R63", SizeFamily.LOW_ASPECT),
        ("750/65R25", "750/65R25", SizeFamily.METRIC),
        ("13.00 x 24", "13.00-24", SizeFamily.CONVENTIONAL),  # both spellings stand in one regulation
        ("1300 x 24", "13.00-24", SizeFamily.CONVENTIONAL),
        ("27R49", "27.00R49", SizeFamily.CONVENTIONAL),
        ("2700 × 49", "27.00-49", SizeFamily.CONVENTIONAL),
        ("26,5–25", "26.5-25", SizeFamily.WIDE_BASE),
        ("205-25", "20.5-25", SizeFamily.WIDE_BASE),
    ],
)
def test_spellings_come_to_one_normal_form(written: str, normal: str, family: SizeFamily) -> None:
    reading = size_read(written)
    assert (str(reading.size), reading.size.family, reading.written) == (normal, family, written)


@pytest.mark.parametrize(
    ("written", "ply", "stars", "code", "tubeless"),
    [
        ("26.5-25 28PR L5 tl", 28, None, "L-5", True),
        ("27.00R49 ** E-4", None, 2, "E-4", None),
        ("29.5R25 2 star", None, 2, None, None),
        ("13.00-24 (16 ply) TT", 16, None, None, False),
        ("17.5-25 L-5S", None, None, "L-5S", None),
        ("23.5R25*", None, 1, None, None),
    ],
)
def test_markings_beside_the_size_are_kept(
    written: str, ply: int | None, stars: int | None, code: str | None, tubeless: bool | None
) -> None:
    reading = size_read(written)
    found = (reading.ply_rating, reading.star_rating, reading.tread_code, reading.tubeless)
    assert found == (ply, stars, code, tubeless)


@pytest.mark.parametrize(
    ("written", "fault"),
    [
        ("", "is not a tyre size"),
        ("27.00", "is not a tyre size"),
        ("27.00R490", "is not a tyre size"),
        ("27.00R4", "rim of 4 in"),
        ("750/20R25", "aspect of 20 %"),
        ("200.5-25", "200.5 wide"),
        ("27.00R49 banana", "BANANA"),
        ("9" * 61, "at most 60"),
    ],
)
def test_a_bad_size_is_refused_with_the_fault_and_an_example(written: str, fault: str) -> None:
    with pytest.raises(InvalidValueError, match=fault):
        size_read(written)


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        assert size_read(str(size_read(text).size)).size == size_read(text).size
    except InvalidValueError as fault:
        assert str(fault)


def test_the_diameter_follows_from_width_aspect_and_rim() -> None:
    # 25 in · 25.4 + 2 · 0.65 · 750 mm = 635 + 975 = 1610 mm
    assert size_read("750/65R25").size.overall_diameter_mm == Decimal("1610.0")


def test_a_size_without_an_aspect_has_no_diameter_by_formula() -> None:
    assert size_read("27.00R49").size.overall_diameter_mm is None


def test_radial_and_bias_differ() -> None:
    assert size_read("29.5R25").size.construction is Construction.RADIAL
    assert size_read("29.5-25").size != size_read("29.5R25").size


@pytest.mark.parametrize(
    ("size", "inside"),
    [("14.00-24", True), ("29.5R29", True), ("20.5R25", True), ("13.00-24", False), ("35/65R33", False)],
)
def test_a_range_holds_sizes_between_its_ends(size: str, inside: bool) -> None:
    # One common heater set covers 14.00-24 to 29.5-29, wide base with it (common practice).
    both = SizeRange(smallest=size_read("14.00-24").size, largest=size_read("29.5-29").size)
    assert both.holds(size_read(size).size) is inside


def test_a_range_runs_upwards() -> None:
    with pytest.raises(InvalidValueError, match="cannot run"):
        SizeRange(smallest=size_read("29.5-29").size, largest=size_read("14.00-24").size)
