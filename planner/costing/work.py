"""What a repair takes, planned or recorded, before any price is put to it."""

from dataclasses import dataclass
from decimal import Decimal

from planner.costing.figures import Given
from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _


@dataclass(frozen=True, slots=True, kw_only=True)
class StageLabour:
    """Work of one grade on one stage: `minutes` over all technicians, of them `overtime_minutes` [min]."""

    stage: str
    grade: str
    minutes: Decimal
    overtime_minutes: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        if not 0 <= self.overtime_minutes <= self.minutes:
            raise InvalidValueError(
                _("overtime on {stage} must be from 0 to the minutes worked", stage=self.stage)
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialUse:
    """A quantity of a material, in the unit of its price."""

    material: str
    quantity: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaterSetUse:
    """How long a heater set is held [min]."""

    heater_set: str
    minutes: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairWork:
    """All that one repair takes.

    Before the work, `rework` and `failure` are odds from 0 to 1; afterwards `failure` is 0 or 1, and rework
    is 0, because its hours and materials are recorded with the others. `energy_from` is what the energy was
    worked out from.
    """

    labour: tuple[StageLabour, ...] = ()
    materials: tuple[MaterialUse, ...] = ()
    energy_kwh: Decimal = Decimal(0)
    energy_from: tuple[Given, ...] = ()
    heater_sets: tuple[HeaterSetUse, ...] = ()
    bay_minutes: Decimal = Decimal(0)
    trips: Decimal = Decimal(0)
    inspections: Decimal = Decimal(0)
    rework: Decimal = Decimal(0)
    failure: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        for name, odds in (("rework", self.rework), ("failure", self.failure)):
            if not 0 <= odds <= 1:
                raise InvalidValueError(
                    _("the odds of {name} must be from 0 to 1, not {odds}", name=name, odds=odds)
                )
