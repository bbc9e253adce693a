"""A repair compound as its maker describes it."""

from dataclasses import dataclass

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure.kinetics import Arrhenius, TenDegreeRule
from planner.engineering.limits import Limits

CURE_MINUTES = Limits(0.1, 1000.0, "min")


@dataclass(frozen=True, slots=True, kw_only=True)
class Compound:
    """What the maker says of a compound, at the law's reference temperature.

    Args:
        name: the maker's name.
        law: how its rate changes with temperature.
        t90_min: time to ML + 0.9 (MH − ML) on a curemeter (ISO 6502, ASTM D5289: from memory) [min].
        scorch_min: time to scorch, ts2 [min].
        reversion_min: equivalent minutes beyond which the compound is harmed [min].
        reversion_c: temperature above which it reverts however short the time, if known [°C].

    """

    name: str
    law: Arrhenius | TenDegreeRule
    t90_min: float
    scorch_min: float
    reversion_min: float
    reversion_c: float | None = None

    def __post_init__(self) -> None:
        CURE_MINUTES.check(f"t90 of {self.name}", self.t90_min)
        CURE_MINUTES.check(f"scorch time of {self.name}", self.scorch_min)
        if not self.scorch_min < self.t90_min < self.reversion_min:
            raise InvalidValueError(
                _("{name}: scorch must come before t90 and t90 before the reversion limit", name=self.name)
            )
