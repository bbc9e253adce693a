"""`plan_problem` and `verify_plan` as they are run: exit codes, files, and what is said."""

import json
from pathlib import Path

import pytest

from planner.domain.problem import BayProblem
from planner.scheduling.problem_format import problem_write
from tests.lib.bays import DAY, HOUR, bay, hands_on, job, planned_job, planned_stage, two_blocks
from tests.lib.command_line import Ended, run_command

Capture = pytest.CaptureFixture[str]
NO_ROOM_FOR_J2 = two_blocks(10 * HOUR, rules={"cures_per_attendant": 1})


class Files:
    """A problem file, and a place for its plan."""

    def __init__(self, folder: Path) -> None:
        self.problem, self.plan = folder / "problem.json", folder / "plan.json"

    def planned(self, capsys: Capture, problem: BayProblem, *options: object) -> Ended:
        """Write the problem and plan it."""
        self.problem.write_bytes(problem_write(problem))
        arguments = ("plan_problem", self.problem, "--out", self.plan, "--workers", 1)
        return run_command(capsys, *arguments, *(options or ("--work", 1)))

    def verified(self, capsys: Capture) -> Ended:
        """Check the plan file."""
        return run_command(capsys, "verify_plan", self.problem, self.plan)


@pytest.fixture
def files(tmp_path: Path) -> Files:
    return Files(tmp_path)


def test_a_plan_is_written_and_holds(capsys: Capture, files: Files) -> None:
    ended = files.planned(capsys, two_blocks(DAY))
    assert (ended.code, ended.out) == (0, "")
    # Both end at 10:00, needed by 6:00, with the priorities 9 and 1: 240 x 10. Flow: 2 x 600.
    assert ended.faults[-1] == "optimal: 2 planned, 0 left out, lateness 2400, flow 1200, bound 2400"
    assert any("dispatch: lateness 2400" in line for line in ended.faults)
    checked = files.verified(capsys)
    assert (checked.code, checked.err) == (0, "")
    assert checked.out == ("the plan holds: lateness 2400, flow 1200, bound 2400, 2 of 2 jobs planned\n")


@pytest.mark.parametrize("seconds", ["0", "1"])
def test_little_time_still_gives_a_plan(capsys: Capture, files: Files, seconds: str) -> None:
    ended = files.planned(capsys, two_blocks(DAY), "--seconds", seconds, "--quiet")
    assert (ended.code, ended.out, ended.err) == (0, "", "")
    assert files.verified(capsys).code == 0


def test_the_same_work_gives_the_same_bytes(capsys: Capture, files: Files) -> None:
    files.planned(capsys, NO_ROOM_FOR_J2)
    first = files.plan.read_bytes()
    files.planned(capsys, NO_ROOM_FOR_J2)
    assert files.plan.read_bytes() == first


def test_what_is_left_out_has_its_reasons(capsys: Capture, files: Files) -> None:
    files.planned(capsys, NO_ROOM_FOR_J2)
    (left_out,) = json.loads(files.plan.read_bytes())["unplanned"]
    assert left_out["job"] == "J2"
    assert left_out["reasons"]
    assert all(reason["code"] and reason["message"] for reason in left_out["reasons"])


def test_what_cannot_be_planned_is_warned_of_unless_quiet(capsys: Capture, files: Files) -> None:
    nobody = bay(job("J1", hands_on("weld", 60, skill="weld")))
    assert files.planned(capsys, nobody).faults[0].startswith("warning: jobs[0].stages[0].skill:")
    assert files.planned(capsys, nobody, "--work", 1, "--quiet").err == ""


def test_locked_work_that_breaks_a_rule_ends_with_1(capsys: Capture, files: Files) -> None:
    twice = tuple(
        planned_job(name, planned_stage("buff", start, start + 60))
        for name, start in (("J1", 360), ("J2", 390))
    )
    stage = hands_on("buff", 60)
    problem = bay(job("J1", stage), job("J2", stage), locked=twice)
    ended = files.planned(capsys, problem, "--quiet")
    message = (
        "The locked work breaks a rule by itself: "
        "one_stage: Ada: works on J1, buff and on J2, buff at 2026-03-02 06:30."
    )
    assert (ended.code, ended.out, ended.err) == (1, "", f"{message}\n")
    written = json.loads(files.plan.read_bytes())
    assert (written["status"], written["jobs"]) == ("infeasible", [])
    assert {reason["message"] for entry in written["unplanned"] for reason in entry["reasons"]} == {message}
    assert files.verified(capsys).code == 1


def test_each_breach_of_a_plan_is_printed(capsys: Capture, files: Files) -> None:
    files.planned(capsys, two_blocks(DAY))
    written = json.loads(files.plan.read_bytes())
    written["watch"] = []
    files.plan.write_text(json.dumps(written))
    checked = files.verified(capsys)
    assert (checked.code, checked.err) == (1, "")
    assert checked.out.splitlines() == [
        f"watch: {name}: unattended for 180 min from 2026-03-02 06:30" for name in ("J1", "J2")
    ]


def test_a_plan_of_another_problem_is_refused(capsys: Capture, files: Files) -> None:
    files.planned(capsys, two_blocks(DAY))
    files.problem.write_bytes(files.problem.read_bytes() + b"\n")
    checked = files.verified(capsys)
    assert checked.code == 1
    assert checked.out == "account: the plan was made for another problem: the digests differ\n"


def test_an_older_plan_is_replaced_whole(capsys: Capture, files: Files) -> None:
    files.plan.write_text("an older plan")
    files.planned(capsys, bay())
    assert json.loads(files.plan.read_bytes())["format"] == "bay-plan/1"
    assert sorted(path.name for path in files.plan.parent.iterdir()) == ["plan.json", "problem.json"]
