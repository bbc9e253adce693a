"""Reading a bay problem from elsewhere, to say what is wrong with it."""

from dataclasses import dataclass

from planner.scheduling.problem_format import problem_read


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemVerdict:
    """A problem without a fault: its digest, its jobs, and what is worth a second look."""

    sha256: str
    jobs: int
    warnings: tuple[str, ...]


def problem_check(*, raw: bytes) -> ProblemVerdict:
    """Read a problem; FaultyFileError names every fault with its place."""
    found = problem_read(raw)
    return ProblemVerdict(sha256=found.sha256, jobs=len(found.problem.jobs), warnings=found.warnings)
