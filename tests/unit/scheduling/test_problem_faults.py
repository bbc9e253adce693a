"""Each fault of a problem file is named with its place."""

import json

import pytest

from planner.scheduling.faults import FaultyFileError
from planner.scheduling.problem_format import problem_read, problem_write
from tests.lib.bays import bay
from tests.lib.malformed import CASES, RAW, table


def faults_of(raw: bytes) -> list[str]:
    """The faults of a file as they are printed."""
    with pytest.raises(FaultyFileError) as caught:
        problem_read(raw)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize("name", CASES)
def test_a_fault_is_named_with_its_place(name: str) -> None:
    change, expected = CASES[name]
    root = table()
    change(root)
    assert expected in faults_of(json.dumps(root).encode())


def test_the_table_is_good_before_it_is_changed() -> None:
    assert problem_read(json.dumps(table()).encode()).warnings == ()


def test_all_faults_are_told_at_once() -> None:
    root = table()
    for name in ("no work", "an id twice", "an unknown zone"):
        CASES[name][0](root)
    assert {CASES[name][1] for name in ("no work", "an id twice", "an unknown zone")} == set(
        faults_of(json.dumps(root).encode())
    )


@pytest.mark.parametrize("name", RAW)
def test_a_file_that_cannot_be_read_says_why(name: str) -> None:
    raw, expected = RAW[name]
    assert faults_of(raw)[0] == expected


@pytest.mark.parametrize(("text", "kind"), [("NaN", "NaN"), ("-Infinity", "a number beyond all measure")])
def test_numbers_that_are_none_are_named_at_their_place(text: str, kind: str) -> None:
    raw = problem_write(bay()).replace(b'"minutes": 120', f'"minutes": {text}'.encode())
    (fault,) = faults_of(raw)
    assert fault.startswith("jobs[0].stages[1].minutes: must be")


def test_a_key_given_twice_is_a_fault() -> None:
    raw = problem_write(bay()).replace(b'"grid_minutes": 15', b'"grid_minutes": 15, "grid_minutes": 5')
    assert faults_of(raw) == ["grid_minutes: is given more than once"]


def test_a_million_jobs_are_one_fault() -> None:
    raw = problem_write(bay()).replace(b'"jobs": [', b'"jobs": [' + b"0," * 1_000_000)
    assert faults_of(raw) == ["jobs: must have 0 to 5000 items, has 1000001"]
