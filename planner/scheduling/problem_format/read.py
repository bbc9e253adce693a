"""The strict reader of `bay-problem/1`: every fault with its place, or a problem with its warnings."""

import hashlib
from dataclasses import dataclass

from planner.domain.problem import BayProblem
from planner.scheduling.faults import FaultList, Place
from planner.scheduling.problem_format.build import problem_build
from planner.scheduling.problem_format.checks import jobs_check, locked_check, resources_check, times_check
from planner.scheduling.problem_format.doubts import doubts_of
from planner.scheduling.problem_format.tables import PROBLEM
from planner.scheduling.shapes import Row, Unread
from planner.scheduling.strict_json import json_read


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemFile:
    """A problem as read: with warnings on jobs that cannot be planned, and the digest of the file's bytes."""

    problem: BayProblem
    warnings: tuple[str, ...]
    sha256: str


def problem_read(raw: bytes) -> ProblemFile:
    """Read the bytes of a problem file.

    Raises:
        FaultyFileError: with every fault that was found, each at its place.

    """
    root = rows_read(json_read(raw))
    return ProblemFile(
        problem=problem_build(root), warnings=doubts_of(root), sha256=hashlib.sha256(raw).hexdigest()
    )


def rows_read(value: object) -> Row:
    """The faultless rows of a problem.

    Raises:
        FaultyFileError: with every fault that was found, each at its place.

    """
    faults = FaultList()
    root = PROBLEM.read(value, Place(), faults)
    if not isinstance(root, Unread):
        for check in (times_check, resources_check, jobs_check, locked_check):
            check(root, faults)
    faults.raise_if_any()
    if isinstance(root, Unread):
        raise TypeError("a file that could not be read left no fault")
    return root
