"""Something odd in a log, shown as it is and never repaired."""

from dataclasses import dataclass
from enum import StrEnum

from planner.domain.sentences import Sentence


class FindingKind(StrEnum):
    """What is odd."""

    UNREADABLE = "unreadable"
    GAP = "gap"
    SPIKE = "spike"
    SWAPPED_SENSORS = "swapped_sensors"
    CLOCK_JUMP = "clock_jump"
    CLOCK_CHANGE = "clock_change"
    NEWEST_FIRST = "newest_first"
    WRONG_UNIT = "wrong_unit"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One oddity with its place in the log.

    Args:
        kind: what it is.
        message: in plain words, with its figures.
        from_min: elapsed time at which it starts [min].
        to_min: elapsed time at which it ends [min].

    """

    kind: FindingKind
    message: Sentence
    from_min: float
    to_min: float
