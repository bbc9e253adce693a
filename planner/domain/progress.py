"""What a running planner tells whoever waits for it, and how it is told to stop."""

from collections.abc import Callable
from dataclasses import dataclass

from planner.domain.plan import Score


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """A moment of a solve: the best plan's score so far and the proven bound on its lateness."""

    phase: str
    score: Score | None
    bound: int
    seconds: float
    work: float


Listener = Callable[[Progress], None]
StopSignal = Callable[[], bool]
