"""Tyre size designations: the many ways to write one, and its one normal form.

Families (grammar as published for earth-mover tyres; ISO 4250-1 is the standard to defer to):
conventional `14.00-24` and `27.00R49` and wide base `29.5R25` (width and rim in inches), low aspect
`35/65R33` (width in inches, aspect in per cent) and metric `750/65R25` (width in millimetres).
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _

MM_PER_INCH = Decimal("25.4")


class SizeFamily(StrEnum):
    """How the designation is to be read."""

    CONVENTIONAL = "conventional"
    WIDE_BASE = "wide_base"
    LOW_ASPECT = "low_aspect"
    METRIC = "metric"


class Construction(StrEnum):
    """The sign between width and rim."""

    BIAS = "-"
    RADIAL = "R"


@dataclass(frozen=True, slots=True, kw_only=True)
class TyreSize:
    """A size as its designation states it; `width` is in millimetres in the metric family, else in inches."""

    family: SizeFamily
    width: Decimal
    aspect_percent: Decimal | None
    construction: Construction
    rim_inch: Decimal

    def __post_init__(self) -> None:
        width_inch = self.width_mm / MM_PER_INCH
        if not 4 <= width_inch <= 72:
            raise InvalidValueError(
                _("a section {width} wide is not that of an earth-mover tyre", width=self.width)
            )
        if not 8 <= self.rim_inch <= 63:
            raise InvalidValueError(_("a rim of {rim_inch} in is outside 8 to 63 in", rim_inch=self.rim_inch))
        if self.aspect_percent is not None and not 25 <= self.aspect_percent <= 100:
            raise InvalidValueError(
                _(
                    "an aspect of {aspect_percent} % is outside 25 to 100 %",
                    aspect_percent=self.aspect_percent,
                )
            )

    @property
    def width_mm(self) -> Decimal:
        """Nominal section width [mm]."""
        return self.width if self.family is SizeFamily.METRIC else self.width * MM_PER_INCH

    @property
    def overall_diameter_mm(self) -> Decimal | None:
        """Rim plus two section heights, D = d + 2·(aspect/100)·W [mm]; None where no aspect is stated."""
        if self.aspect_percent is None:
            return None
        return self.rim_inch * MM_PER_INCH + 2 * self.aspect_percent / 100 * self.width_mm

    def __str__(self) -> str:
        """The normal form of the designation."""
        rim = _plain(self.rim_inch)
        if self.family is SizeFamily.CONVENTIONAL:
            return f"{self.width:.2f}{self.construction}{rim}"
        if self.aspect_percent is None:
            return f"{_plain(self.width)}{self.construction}{rim}"
        return f"{_plain(self.width)}/{_plain(self.aspect_percent)}{self.construction}{rim}"


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRange:
    """Sizes from a smallest to a largest: the section and the rim must both lie between theirs.

    A range says nothing of the zone; bias and radial tyres of one size fit alike (common practice).
    """

    smallest: TyreSize
    largest: TyreSize

    def __post_init__(self) -> None:
        small, large = self.smallest, self.largest
        if small.width_mm > large.width_mm or small.rim_inch > large.rim_inch:
            raise InvalidValueError(
                _(
                    "a range of sizes cannot run from {small} to {large}: "
                    "section and rim must not get smaller",
                    small=small,
                    large=large,
                )
            )

    def holds(self, size: TyreSize) -> bool:
        """Whether a tyre of this size lies in the range."""
        return (
            self.smallest.width_mm <= size.width_mm <= self.largest.width_mm
            and self.smallest.rim_inch <= size.rim_inch <= self.largest.rim_inch
        )


def _plain(number: Decimal) -> str:
    """The number without needless zeros."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
