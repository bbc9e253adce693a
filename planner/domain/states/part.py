"""The states of a part of a heater set."""

from enum import StrEnum

from planner.domain.sentences import _
from planner.domain.states.table import StateTable


class PartState(StrEnum):
    """Whether the part may be used."""

    FIT = "fit"
    OUT = "out"
    SCRAPPED = "scrapped"


PART_STATES = StateTable(
    noun=_("heater set part"),
    first=PartState.FIT,
    moves={
        (PartState.FIT, "take_out"): PartState.OUT,
        (PartState.OUT, "put_back"): PartState.FIT,
        (PartState.OUT, "scrap"): PartState.SCRAPPED,
        (PartState.SCRAPPED, "replace"): PartState.FIT,
    },
)
