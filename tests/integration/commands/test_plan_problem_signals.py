"""`plan_problem` asked to stop: the best plan so far is written, and nobody is left behind."""

import signal
import time
from pathlib import Path

import pytest

from planner.scheduling.plan_format import plan_read
from planner.scheduling.problem_format import problem_read, problem_write
from planner.scheduling.verify import verify
from tests.lib.command_line import search_workers_of, started_command, wait_until_heard
from tests.lib.random_bays import BaySize, random_bay

LARGE = BaySize(jobs=26, technicians=5, heater_sets=4, hours=72, grid_minutes=5)
SECONDS_TO_END = 60
"""Far more than stopping takes, for the machine may be busy, and far less than the plan may take."""


@pytest.fixture
def problem(tmp_path: Path) -> Path:
    path = tmp_path / "problem.json"
    path.write_bytes(problem_write(random_bay(4, LARGE)))
    return path


def _holds(problem: Path, plan: Path) -> bool:
    read = problem_read(problem.read_bytes())
    return verify(read.problem, plan_read(plan.read_bytes(), read.problem), sha256=read.sha256) == ()


def _is_gone(worker: int) -> bool:
    deadline = time.monotonic() + SECONDS_TO_END
    path = Path(f"/proc/{worker}")
    while path.exists() and time.monotonic() < deadline:
        time.sleep(0.05)
    return not path.exists()


@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_during_the_search_writes_the_plan(problem: Path, ending: int) -> None:
    plan = problem.with_name("plan.json")
    arguments = ("plan_problem", problem, "--out", plan, "--seconds", 600)
    with started_command(problem.parent, *arguments) as process:
        while not (workers := search_workers_of(process.pid)):
            assert process.poll() is None
            time.sleep(0.05)
        process.send_signal(ending)
        process.send_signal(ending)  # some shells tell the process and then its group
        _, said = process.communicate(timeout=SECONDS_TO_END)
    assert process.returncode == 0
    assert "Traceback" not in said
    assert _holds(problem, plan)
    assert all(_is_gone(worker) for worker in workers)


def test_a_signal_while_the_program_is_loaded_is_heard(problem: Path) -> None:
    plan = problem.with_name("plan.json")
    arguments = ("plan_problem", problem, "--out", plan, "--seconds", 600, "--quiet")
    with started_command(problem.parent, *arguments) as process:
        wait_until_heard(process, signal.SIGTERM)  # before Django and the solver, which take far longer
        process.send_signal(signal.SIGTERM)
        _, said = process.communicate(timeout=SECONDS_TO_END)
    assert (process.returncode, said) == (0, "")
    assert _holds(problem, plan)


def test_workers_end_when_their_process_is_killed(problem: Path) -> None:
    arguments = ("plan_problem", problem, "--out", problem.with_name("plan.json"), "--seconds", 600)
    with started_command(problem.parent, *arguments) as process:
        while not (workers := search_workers_of(process.pid)):
            assert process.poll() is None
            time.sleep(0.05)
        process.kill()
        process.communicate()
    assert all(_is_gone(worker) for worker in workers)
