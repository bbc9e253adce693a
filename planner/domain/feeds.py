"""What a calendar feed tells."""

from enum import StrEnum


class FeedKind(StrEnum):
    """A feed for one purpose, so that one can be stopped without the other."""

    READY = "ready"
    SHIFTS = "shifts"
