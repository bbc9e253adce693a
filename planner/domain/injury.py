"""An injury of a tyre: where it is and how large."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _


class Zone(StrEnum):
    """The part of the tyre's cross-section that is hurt."""

    CROWN = "crown"
    SHOULDER = "shoulder"
    SIDEWALL = "sidewall"
    BEAD = "bead"


class InjurySource(StrEnum):
    """How its size is known: guessed from outside, or measured after skiving."""

    PROVISIONAL = "provisional"
    MEASURED = "measured"


class InjuryMeasure(StrEnum):
    """What a stage's minutes may grow with."""

    NOTHING = "nothing"
    LENGTH_CM = "length_cm"
    DEPTH_MM = "depth_mm"
    AREA_CM2 = "area_cm2"
    VOLUME_CM3 = "volume_cm3"
    PLIES = "plies"


@dataclass(frozen=True, slots=True, kw_only=True)
class Injury:
    """One injury with its greatest length, width and depth [mm] and the plies cut through."""

    zone: Zone
    length_mm: int
    width_mm: int
    depth_mm: int
    plies: int = 0

    def __post_init__(self) -> None:
        if min(self.length_mm, self.width_mm, self.depth_mm) < 1:
            raise InvalidValueError(_("an injury's length, width and depth must be at least 1 mm"))
        if max(self.length_mm, self.width_mm) > 5000 or self.depth_mm > 500:
            raise InvalidValueError(_("an injury is at most 5000 mm long and wide and 500 mm deep"))
        if not 0 <= self.plies <= 100:
            raise InvalidValueError(_("the plies cut must be from 0 to 100"))

    def measured(self, measure: InjuryMeasure) -> Decimal:
        """Its size in `measure`, exactly; the box around it stands for area and volume."""
        length, width, depth = Decimal(self.length_mm), Decimal(self.width_mm), Decimal(self.depth_mm)
        sizes = {
            InjuryMeasure.NOTHING: Decimal(0),
            InjuryMeasure.LENGTH_CM: length / 10,
            InjuryMeasure.DEPTH_MM: depth,
            InjuryMeasure.AREA_CM2: length * width / 100,
            InjuryMeasure.VOLUME_CM3: length * width * depth / 1000,
            InjuryMeasure.PLIES: Decimal(self.plies),
        }
        return sizes[measure]
