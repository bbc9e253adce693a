"""Every malformed problem file ends the command with exit code 2 and its fault, one line for each."""

import json
from pathlib import Path

import pytest

from tests.lib.command_line import run_command
from tests.lib.malformed import CASES, RAW, table


def _raw(name: str) -> tuple[bytes, str]:
    if name in RAW:
        return RAW[name]
    change, fault = CASES[name]
    root = table()
    change(root)
    return json.dumps(root).encode(), fault


@pytest.mark.parametrize("name", [*CASES, *RAW])
def test_a_malformed_file_ends_with_2(capsys: pytest.CaptureFixture[str], tmp_path: Path, name: str) -> None:
    raw, fault = _raw(name)
    problem, plan = tmp_path / "problem.json", tmp_path / "plan.json"
    problem.write_bytes(raw)
    ended = run_command(capsys, "plan_problem", problem, "--out", plan)
    assert (ended.code, ended.out) == (2, "")
    assert any(line.endswith(fault) for line in ended.faults)
    assert not plan.exists()
