"""What the log of a cure says of it."""

from enum import StrEnum


class CureVerdict(StrEnum):
    """What the log says of the cure; a person decides in any case."""

    WITHIN_PLAN = "within_plan"
    NEEDS_DECISION = "needs_decision"
    NOT_ENOUGH_DATA = "not_enough_data"
