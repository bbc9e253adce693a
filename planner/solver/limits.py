"""How long and how hard to search."""

from dataclasses import dataclass

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _


@dataclass(frozen=True, slots=True, kw_only=True)
class SolveLimits:
    """`work` counts deterministic units: its answers can be repeated; `seconds` only ever stops a search."""

    seconds: float | None = None
    work: float | None = None
    workers: int = 1
    seed: int = 0

    def __post_init__(self) -> None:
        if self.workers < 1:
            raise InvalidValueError(_("a search needs at least 1 worker"))
        if (self.seconds is not None and self.seconds < 0) or (self.work is not None and self.work < 0):
            raise InvalidValueError(_("a limit must not be negative"))
