"""Commands of `manage.py`: within this process for speed, or in one of their own for signals."""

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from django.core.management import execute_from_command_line

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True)
class Ended:
    """How a command ended and what it said."""

    code: int
    out: str
    err: str

    @property
    def faults(self) -> list[str]:
        """What stands on stderr, line by line."""
        return self.err.splitlines()


def run_command(capsys: pytest.CaptureFixture[str], *arguments: object) -> Ended:
    """Run a command in this process as `manage.py` would."""
    code: int | str | None = 0
    try:
        execute_from_command_line(["manage.py", *map(str, arguments)])
    except SystemExit as ending:
        code = ending.code
    said = capsys.readouterr()
    return Ended(int(code or 0), said.out, said.err)


@contextmanager
def started_command(folder: Path, *arguments: object) -> Iterator["subprocess.Popen[str]"]:
    """A command in a process and a group of its own, which does not outlive the block."""
    environment = {name: value for name, value in os.environ.items() if name != "DJANGO_SETTINGS_MODULE"}
    process = subprocess.Popen(
        [sys.executable, "manage.py", *map(str, arguments)],
        cwd=ROOT,
        env=environment | {"TYREWRIGHT_VAR": str(folder / "var")},
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    try:
        yield process
    finally:
        process.kill()
        process.wait()
        if process.stderr is not None:
            process.stderr.close()


def wait_until_heard(process: "subprocess.Popen[str]", by: int) -> None:
    """Return once the process catches the signal, which would end it before; it fails where it has ended."""
    while not _caught(process.pid) >> (by - 1) & 1:
        assert process.poll() is None
        time.sleep(0.002)


def _caught(process: int) -> int:
    """A bit for each signal that the process has a handler for."""
    lines = Path(f"/proc/{process}/status").read_text().splitlines()
    return next(int(line.split()[1], 16) for line in lines if line.startswith("SigCgt:"))


def search_workers_of(process: int) -> list[int]:
    """The process ids of the search's worker processes that a process, or nobody any more, has."""
    found = []
    for path in Path("/proc").glob("[0-9]*"):
        try:
            command = (path / "cmdline").read_bytes()
            parent = int((path / "stat").read_text().rpartition(")")[2].split()[1])
        except (OSError, ValueError):
            continue
        if b"planner.solver.improvement.worker" in command and parent == process:
            found.append(int(path.name))
    return found
