"""The states of a tyre on the site."""

from enum import StrEnum

from planner.domain.sentences import _
from planner.domain.states.table import StateTable


class TyreState(StrEnum):
    """Where the tyre is in its life."""

    FITTED = "fitted"
    OFF_MACHINE = "off_machine"
    QUARANTINED = "quarantined"
    OUT_OF_SERVICE = "out_of_service"


_S = TyreState

TYRE_STATES = StateTable(
    noun=_("tyre"),
    first=_S.OFF_MACHINE,
    moves={
        (_S.OFF_MACHINE, "fit"): _S.FITTED,
        (_S.FITTED, "demount"): _S.OFF_MACHINE,
        # A tyre that has seen heat on the machine can burst up to 24 h later: it is kept apart first.
        (_S.FITTED, "quarantine"): _S.QUARANTINED,
        (_S.OFF_MACHINE, "quarantine"): _S.QUARANTINED,
        (_S.QUARANTINED, "clear"): _S.OFF_MACHINE,
        (_S.OFF_MACHINE, "take_out_of_service"): _S.OUT_OF_SERVICE,
        (_S.QUARANTINED, "take_out_of_service"): _S.OUT_OF_SERVICE,
    },
)
