"""What somebody is told of."""

from enum import StrEnum


class NoticeKind(StrEnum):
    """Why a notice was written."""

    PROMISE = "promise"
    PROBLEM = "problem"
    ALARM = "alarm"
