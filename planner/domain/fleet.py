"""Why a tyre comes off its machine."""

from enum import StrEnum


class RemovalReason(StrEnum):
    """What ended a tyre's time on a position."""

    DAMAGED = "damaged"
    WORN = "worn"
    MOVED = "moved"
    OTHER = "other"


ASKS_FOR_A_SPARE = (RemovalReason.DAMAGED, RemovalReason.WORN)
"""After these the position waits for another tyre; a tyre that is moved only changes its place."""
