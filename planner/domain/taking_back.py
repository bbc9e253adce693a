"""Taking back a tap of the floor: whose, and for how long."""

from datetime import timedelta
from enum import StrEnum

OWN_TAP_MINUTES = 30
"""For so long whoever tapped may take it back [min]; a supervisor may until the next stage begins."""


class StageTap(StrEnum):
    """What was tapped of a stage."""

    START = "start"
    END = "end"


def own_tap_is_fresh(since: timedelta) -> bool:
    """Whether a tap is so young that it may have been a slip of its own hand."""
    return since <= timedelta(minutes=OWN_TAP_MINUTES)
