"""Bad input on the command line: exit code 2, each fault on a line of stderr, nothing written."""

from pathlib import Path

import pytest

from planner.scheduling.problem_format import problem_write
from tests.lib.bays import bay
from tests.lib.command_line import Ended, run_command

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def problem(tmp_path: Path) -> Path:
    path = tmp_path / "problem.json"
    path.write_bytes(problem_write(bay()))
    return path


def _refused(capsys: Capture, *arguments: object) -> Ended:
    ended = run_command(capsys, *arguments)
    assert ended.code == 2
    assert ended.out == ""
    return ended


def _only_fault(capsys: Capture, *arguments: object) -> str:
    (fault,) = _refused(capsys, *arguments).faults
    return fault


@pytest.mark.parametrize(
    ("option", "value", "fault"),
    [
        ("--seconds", "nan", "must be from 0 to 86400, not nan"),
        ("--seconds", "inf", "must be from 0 to 86400, not inf"),
        ("--seconds", "-1", "must be from 0 to 86400, not -1"),
        ("--seconds", "soon", "must be a number, not 'soon'"),
        ("--work", "-3", "must be from 0 to 1e+09, not -3"),
        ("--workers", "0", "must be from 1 to 64, not 0"),
        ("--workers", "1000", "must be from 1 to 64, not 1000"),
        ("--workers", "1.5", "must be a whole number, not '1.5'"),
        ("--seed", "x", "must be a whole number, not 'x'"),
        ("--seed", "9" * 5000, "must be a whole number"),
    ],
)
def test_an_option_out_of_range_is_named(
    capsys: Capture, problem: Path, option: str, value: str, fault: str
) -> None:
    plan = problem.with_name("plan.json")
    ended = _refused(capsys, "plan_problem", problem, "--out", plan, f"{option}={value}")
    assert ended.faults[-1].startswith(f"manage.py plan_problem: error: argument {option}: {fault}")
    assert not plan.exists()


def test_no_place_for_the_plan_is_a_fault(capsys: Capture, problem: Path) -> None:
    ended = _refused(capsys, "plan_problem", problem)
    assert ended.faults[-1].endswith("the following arguments are required: --out")


def test_files_that_cannot_be_read_are_named(capsys: Capture, tmp_path: Path) -> None:
    plan, missing = tmp_path / "plan.json", tmp_path / "missing.json"
    assert _only_fault(capsys, "plan_problem", missing, "--out", plan) == (
        f"{missing}: cannot be read: No such file or directory"
    )
    assert _only_fault(capsys, "plan_problem", tmp_path, "--out", plan) == (
        f"{tmp_path}: cannot be read: Is a directory"
    )
    assert not plan.exists()


def test_a_link_that_leads_nowhere_is_named(capsys: Capture, tmp_path: Path) -> None:
    link = tmp_path / "link.json"
    link.symlink_to(link)
    fault = _only_fault(capsys, "plan_problem", link, "--out", tmp_path / "plan.json")
    assert fault == f"{link}: cannot be read: Too many levels of symbolic links"


def test_fifty_megabytes_are_refused_before_they_are_read(capsys: Capture, tmp_path: Path) -> None:
    huge = tmp_path / "huge.json"
    with huge.open("wb") as file:
        file.truncate(50 * 1024 * 1024)
    fault = _only_fault(capsys, "plan_problem", huge, "--out", tmp_path / "plan.json")
    assert fault == f"{huge}: the file is too large: 50.0 MB, at most 16 MB are read"


def test_a_file_that_is_not_json_is_named(capsys: Capture, tmp_path: Path) -> None:
    odd = tmp_path / "odd.json"
    odd.write_text("jobs: [J1]")
    fault = _only_fault(capsys, "plan_problem", odd, "--out", tmp_path / "plan.json")
    assert fault == "not JSON: Expecting value at line 1, column 1"


def test_places_where_no_plan_can_be_written_are_named(capsys: Capture, problem: Path) -> None:
    folder, nowhere = problem.parent, problem.parent / "no" / "plan.json"
    arguments = ("plan_problem", problem, "--out")
    assert _only_fault(capsys, *arguments, folder) == f"{folder}: is a directory; name a file for the plan"
    assert _only_fault(capsys, *arguments, nowhere) == (
        f"{nowhere.parent}: there is no such directory for the plan"
    )
    assert _only_fault(capsys, *arguments, problem) == (
        f"{problem}: is the problem file; the plan would overwrite it"
    )
    assert _only_fault(capsys, *arguments, f"{folder}/{'n' * 300}.json").endswith("File name too long")


def test_a_plan_that_cannot_be_read_is_refused(capsys: Capture, problem: Path) -> None:
    plan = problem.with_name("plan.json")
    plan.write_text('{"format": "bay-plan/1", "status": "splendid"}')
    ended = _refused(capsys, "verify_plan", problem, plan)
    assert 'status: must be one of optimal, feasible, infeasible, not "splendid"' in ended.faults
    assert "jobs: is missing" in ended.faults
