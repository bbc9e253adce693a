"""The README's commands, the import contracts, the one stem of each bay rule and the stories' patience."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text()
MAKE = "python3 -m venv .venv && .venv/bin/pip install -q -r .locks/"
COMMANDS = [
    MAKE + "runtime.txt && .venv/bin/python manage.py demo",
    MAKE + "tests.txt && .venv/bin/python -m pytest",
]


@pytest.mark.parametrize("command", COMMANDS)
def test_readme_gives_each_command_once_and_whole(command: str) -> None:
    assert [line.strip() for line in README.splitlines()].count(command) == 1


def test_every_file_that_the_readme_shows_exists() -> None:
    shown = [part.partition(")")[0] for part in README.split("](")[1:]]
    assert shown
    assert [path for path in shown if not (ROOT / path).exists()] == []


def test_import_contracts_are_kept() -> None:
    tool = Path(sys.executable).parent / "lint-imports"
    done = subprocess.run([tool], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


def test_solver_and_checker_call_a_rule_by_one_stem() -> None:
    checked = {path.stem for path in (ROOT / "planner/scheduling/verify/rules").glob("*.py")}
    modelled = {path.stem for path in (ROOT / "planner/solver/rules").glob("*.py")} - {
        "rule"
    }  # their shared shape
    assert modelled - checked == set()
    assert len(checked) > 15


def test_a_story_sees_something_before_it_looks_at_the_page() -> None:
    # A click comes back before the page that it leads to is there, so what looks next could see half a page.
    at_once = re.compile(r"\.click\(\)\n +(?:shown|_no_barriers|axe_violations)\(.*")
    stories = sorted((ROOT / "tests/functional").glob("test_*.py"))
    assert stories
    assert [(path.name, found) for path in stories for found in at_once.findall(path.read_text())] == []
