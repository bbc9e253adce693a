"""Energy that a repair is expected to take: as the meter has the sets, else as the model has each cure."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.costing.assumptions import Assumed, Assumption
from planner.costing.figures import Given
from planner.domain.work import Stage, StageKind
from planner.models import Damage
from planner.selectors.accounts.bay import CostedBay
from planner.selectors.cure_figures import CureFigures

MODEL = "model of the cure"
_SHOWN = Decimal("0.01")

Planned = Sequence[tuple[Damage, tuple[Stage, ...]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedEnergy:
    """Energy [kWh] and what it came from."""

    kwh: Decimal
    givens: tuple[Given, ...]


def planned_energy_get(*, planned: Planned, assumed: Assumed, bay: CostedBay) -> PlannedEnergy:
    """Energised hours times what a set was metered at; without that figure, the model's energy of every cure.

    Raises InvalidValueError where the site has no such figure and the model lacks one of a cure.
    """
    hot = [(damage, _energised_min(stages)) for damage, stages in planned]
    cures = [bay.minutes.get(damage.pk) for damage, minutes in hot if minutes]
    modelled = [cure for cure in cures if cure and cure.energy_kwh]
    whole = len(modelled) == len(cures)
    if Assumption.SET_KWH_AN_HOUR in assumed.values or not whole:
        minutes = sum(minutes for _, minutes in hot)
        return _by_meter(assumed[Assumption.SET_KWH_AN_HOUR], minutes, modelled if whole else [])
    return _by_model(modelled)


def _energised_min(stages: Sequence[Stage]) -> int:
    return sum(stage.minutes for stage in stages if stage.kind is StageKind.ENERGISED)


def _by_meter(kwh_an_hour: Decimal, minutes: int, modelled: Sequence[CureFigures]) -> PlannedEnergy:
    given = (
        Given(label=Assumption.SET_KWH_AN_HOUR, value=kwh_an_hour, unit="kWh an hour", source="assumptions"),
        Given(label="energised", value=Decimal(minutes), unit="min"),
    )
    told = _shown(sum(cure.energy_kwh for cure in modelled))
    beside = (Given(label="beside it", value=told, unit="kWh", source=MODEL),) if modelled else ()
    return PlannedEnergy(kwh=kwh_an_hour * minutes / 60, givens=(*given, *beside) if minutes else ())


def _by_model(modelled: Sequence[CureFigures]) -> PlannedEnergy:
    parts = (
        ("into the rubber", sum(cure.rubber_kwh for cure in modelled)),
        ("into the pads", sum(cure.pads_kwh for cure in modelled)),
        ("lost to the bay", sum(cure.losses_kwh for cure in modelled)),
    )
    givens = tuple(Given(label=label, value=_shown(kwh), unit="kWh", source=MODEL) for label, kwh in parts)
    return PlannedEnergy(kwh=sum((given.value for given in givens), Decimal(0)), givens=givens)


def _shown(kwh: float) -> Decimal:
    """To the hundredth, so that the parts shown add up to the quantity that is priced."""
    return Decimal(kwh).quantize(_SHOWN)
