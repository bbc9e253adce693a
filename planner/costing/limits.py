"""The site's limits beyond which a tyre gets no advice to repair, whatever it costs."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from planner.domain.errors import InvalidValueError
from planner.domain.plan import Reason
from planner.domain.sentences import _


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairLimits:
    """The greatest casing age [years], the greatest number of repairs and the least tread left [mm]."""

    casing_age_years: Decimal
    repairs: int
    tread_mm: Decimal

    def __post_init__(self) -> None:
        if self.casing_age_years <= 0 or self.repairs < 1 or self.tread_mm < 0:
            raise InvalidValueError(_("limits on age and repairs must be more than 0, on tread at least 0"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Casing:
    """The tyre before this repair; `damage` holds each way in which it is beyond the damage limits."""

    age_years: Decimal
    repairs: int
    tread_mm: Decimal
    damage: tuple[Reason, ...] = ()


def beyond_limits(casing: Casing, limits: RepairLimits) -> tuple[Reason, ...]:
    """Every limit that the tyre is beyond; a tyre exactly at a limit is still within it."""
    return (*casing.damage, *_breaches(casing, limits))


def _breaches(casing: Casing, limits: RepairLimits) -> Iterator[Reason]:
    if casing.age_years > limits.casing_age_years:
        message = _(
            "the casing is {age_years} years old and the limit is {casing_age_years}",
            age_years=casing.age_years,
            casing_age_years=limits.casing_age_years,
        )
        yield Reason(code="casing-too-old", message=message, figures={"years": float(casing.age_years)})
    if casing.repairs + 1 > limits.repairs:
        message = _(
            "this would be repair {repairs} and the limit is {limits_repairs}",
            repairs=casing.repairs + 1,
            limits_repairs=limits.repairs,
        )
        yield Reason(code="too-many-repairs", message=message)
    if casing.tread_mm < limits.tread_mm:
        message = _(
            "{tread_mm} mm of tread is left and the least is {limits_tread_mm} mm",
            tread_mm=casing.tread_mm,
            limits_tread_mm=limits.tread_mm,
        )
        yield Reason(code="too-little-tread", message=message, figures={"tread_mm": float(casing.tread_mm)})
