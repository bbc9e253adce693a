"""Bay files on the command line: read with plain faults, written whole or not at all."""

import os
import stat
import tempfile
from pathlib import Path
from typing import Never

from django.core.management.base import OutputWrapper

from planner.scheduling.faults import FaultyFileError
from planner.scheduling.problem_format import ProblemFile, problem_read
from planner.scheduling.strict_json import MOST_BYTES, size_check

BAD_INPUT = 2


def refuse(stderr: OutputWrapper, *lines: str) -> Never:
    """Say what is wrong, a line for each fault, and end with exit code 2."""
    for line in lines:
        stderr.write(line)
    raise SystemExit(BAD_INPUT)


def file_bytes(path: Path, stderr: OutputWrapper) -> bytes:
    """The bytes of a file that is not too large."""
    try:
        size_check(path.stat().st_size if stat.S_ISREG(path.stat().st_mode) else 0)
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except FaultyFileError as error:
        refuse(stderr, *(f"{path}: {fault}" for fault in error.faults))
    except (OSError, ValueError) as error:
        refuse(stderr, f"{path}: cannot be read: {_cause(error)}")


def problem_file(path: Path, stderr: OutputWrapper) -> ProblemFile:
    """A problem, or each of its faults on a line."""
    raw = file_bytes(path, stderr)
    try:
        return problem_read(raw)
    except FaultyFileError as error:
        refuse(stderr, *(str(fault) for fault in error.faults))


def target_check(path: Path, problem: Path, stderr: OutputWrapper) -> None:
    """Refuse, before any work is done, a place where no plan can be written."""
    try:
        if path.is_dir():
            refuse(stderr, f"{path}: is a directory; name a file for the plan")
        if path.exists() and problem.exists() and path.samefile(problem):
            refuse(stderr, f"{path}: is the problem file; the plan would overwrite it")
        if not path.parent.is_dir():
            refuse(stderr, f"{path.parent}: there is no such directory for the plan")
        if not os.access(path.parent, os.W_OK | os.X_OK):
            refuse(stderr, f"{path.parent}: nothing can be written there")
    except (OSError, ValueError) as error:
        refuse(stderr, f"{path}: cannot be written: {_cause(error)}")


def written_whole(path: Path, content: bytes, stderr: OutputWrapper) -> None:
    """Write beside the target and move into its place: a reader never meets half a plan."""
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name[:50]}.", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(name).chmod(0o644)
            Path(name).replace(path)
        except OSError:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        refuse(stderr, f"{path}: cannot be written: {_cause(error)}")


def _cause(error: Exception) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)
