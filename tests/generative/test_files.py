"""Files changed at random, through the commands: planned or checked, or refused by their faults."""

import json
from pathlib import Path
from random import Random
from typing import Any

import pytest

from planner.scheduling.plan_format import plan_write
from planner.scheduling.problem_format import problem_write
from planner.services.bay_plan import bay_plan_make
from planner.solver.limits import SolveLimits
from tests.lib.bays import two_blocks
from tests.lib.command_line import run_command
from tests.lib.random_bays import BaySize, random_bay

ODD: tuple[Any, ...] = (
    None, True, 0, -1, 1.5, 1e300, 10**30, float("nan"), float("inf"), "", "x", "\ud800", "J1", "T1",
    [], {}, [[]], {"a": 1}, "2026-03-02T00:00:00", "2026-03-02T05:00:00Z", "9999-12-31T23:59:00+00:00",
)  # fmt: skip
SEEDS = range(120)


def _spots(value: Any) -> list[tuple[Any, Any]]:
    """Every container with every key or index in it."""
    keys = list(value) if isinstance(value, dict) else list(range(len(value)))
    inner = [value[key] for key in keys if isinstance(value[key], dict | list)]
    return [(value, key) for key in keys] + [spot for item in inner for spot in _spots(item)]


def _changed(raw: bytes, random: Random) -> bytes:
    root = json.loads(raw)
    for _ in range(random.randint(1, 3)):
        here, key = random.choice(_spots(root))
        if random.random() < 0.2:
            del here[key]
        elif isinstance(here, list) and random.random() < 0.3:
            here.append(here[key])
        else:
            here[key] = random.choice(ODD)
    text = json.dumps(root)
    return text[: random.randrange(len(text))].encode() if random.random() < 0.1 else text.encode()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_changed_problem_is_planned_or_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, seed: int
) -> None:
    problem, plan = tmp_path / "problem.json", tmp_path / "plan.json"
    bay = random_bay(seed, BaySize(jobs=2))
    problem.write_bytes(_changed(problem_write(bay), Random(seed)))
    ended = run_command(capsys, "plan_problem", problem, "--out", plan, "--seconds", 0)
    assert ended.code in (0, 1, 2)
    assert (ended.code == 2) != plan.exists()
    assert "Traceback" not in ended.err
    if ended.code == 0:
        assert run_command(capsys, "verify_plan", problem, plan).code == 0
    else:
        assert ended.faults


@pytest.mark.parametrize("seed", SEEDS)
def test_a_changed_plan_is_checked_or_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, seed: int
) -> None:
    problem, plan = tmp_path / "problem.json", tmp_path / "plan.json"
    bay = two_blocks(18 * 60)
    problem.write_bytes(problem_write(bay))
    made = bay_plan_make(problem=bay, sha256="0" * 64, limits=SolveLimits(seconds=0.0))
    plan.write_bytes(_changed(plan_write(made, bay), Random(seed)))
    ended = run_command(capsys, "verify_plan", problem, plan)
    assert ended.code in (1, 2)  # the digest is not the file's: there is always something to say
    assert ended.out if ended.code == 1 else ended.faults
    assert "Traceback" not in ended.err
