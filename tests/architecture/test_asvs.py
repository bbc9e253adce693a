"""The table of OWASP ASVS 5.0.0: every requirement of levels 1 and 2 once, each test that it names there."""

import csv
import re
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TABLE = ROOT / ".docs" / "asvs.md"
STATES = {"met", "in part", "site", "no", "n/a"}


def _rows() -> list[tuple[str, str, str]]:
    found = re.findall(r"^\| ([\d.–]+) \| ([\w/ ]+) \| (.+) \|$", TABLE.read_text(), re.MULTILINE)
    return [(ids, state, words) for ids, state, words in found]


def _ids(told: str) -> list[str]:
    """One id, or all from the first to the last of a section."""
    first, _, last = told.partition("–")
    section, _, number = first.rpartition(".")
    assert not last or last.rpartition(".")[0] == section, told
    return [f"{section}.{each}" for each in range(int(number), int(last.rpartition(".")[2] or number) + 1)]


def _wanted() -> set[str]:
    with (ROOT / "fixtures" / "published" / "asvs-5.0.0-levels.csv").open() as file:
        return {row["requirement"] for row in csv.DictReader(file) if row["level"] in "12"}


def test_every_requirement_of_levels_1_and_2_stands_there_once() -> None:
    levels, told = _levels(), Counter(each for ids, _, _ in _rows() for each in _ids(ids))
    assert [name for name, count in told.items() if count > 1] == []
    # A span may run over a requirement of level 3; no other may stand there.
    assert _wanted() - told.keys() == set()
    assert told.keys() - levels == set()


def _levels() -> set[str]:
    with (ROOT / "fixtures" / "published" / "asvs-5.0.0-levels.csv").open() as file:
        return {row["requirement"] for row in csv.DictReader(file)}


def test_every_line_has_a_state_and_a_reason() -> None:
    assert {state for _, state, _ in _rows()} <= STATES
    assert len(re.findall(r"^\| \d", TABLE.read_text(), re.MULTILINE)) == len(_rows())


def test_every_test_that_it_names_is_there() -> None:
    named = {name for _, _, words in _rows() for name in re.findall(r"`([\w/]+\.py)`", words)}
    tests = {name for name in named if not name.startswith("planner/")}
    assert [name for name in sorted(tests) if not (ROOT / "tests" / name).exists()] == []
    assert len(tests) > 20
