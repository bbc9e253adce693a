"""What a repair is expected to take, from its route, its injuries and the site's assumptions."""

from collections import defaultdict
from collections.abc import Iterator
from decimal import Decimal

from planner.costing.assumptions import Assumed, Assumption
from planner.costing.work import HeaterSetUse, MaterialUse, RepairWork, StageLabour
from planner.domain.injury import InjuryMeasure
from planner.domain.size_reading import size_read
from planner.domain.work import Stage, StageKind
from planner.models import Damage, Site, WorkOrder
from planner.selectors.accounts.bay import CostedBay
from planner.selectors.accounts.planned_energy import planned_energy_get

REPAIR_RUBBER = "repair rubber"


def planned_work_get(*, order: WorkOrder, assumed: Assumed, bay: CostedBay) -> RepairWork:
    """The work of every injury of the order; InvalidValueError or NotFoundError says what is missing."""
    planned = [(damage, bay.stages_of(order, damage)) for damage in order.damages.all()]
    stages = [stage for _, each in planned for stage in each]
    overtime = assumed.or_else(Assumption.OVERTIME_SHARE, Decimal(0))
    energy = planned_energy_get(planned=planned, assumed=assumed, bay=bay)
    return RepairWork(
        labour=summed_labour(_labour(order.site, stages, bay, overtime)),
        materials=_materials([damage for damage, _ in planned], assumed, bay),
        energy_kwh=energy.kwh,
        energy_from=energy.givens,
        heater_sets=_heater_sets(order, planned, bay),
        bay_minutes=Decimal(sum(stage.minutes for stage in stages if stage.place)),
        trips=assumed[Assumption.TRIPS],
        inspections=assumed[Assumption.INSPECTIONS],
        rework=assumed[Assumption.REWORK_ODDS],
        failure=assumed[Assumption.FAILURE_ODDS],
    )


def summed_labour(parts: Iterator[StageLabour]) -> tuple[StageLabour, ...]:
    """One entry for each stage and grade, in order of first appearance."""
    sums: dict[tuple[str, str], list[Decimal]] = {}
    for part in parts:
        total = sums.setdefault((part.stage, part.grade), [Decimal(0), Decimal(0)])
        total[0] += part.minutes
        total[1] += part.overtime_minutes
    return tuple(
        StageLabour(stage=stage, grade=grade, minutes=minutes, overtime_minutes=overtime)
        for (stage, grade), (minutes, overtime) in sums.items()
    )


def _materials(damages: list[Damage], assumed: Assumed, bay: CostedBay) -> tuple[MaterialUse, ...]:
    """What fills each injury (its own material, the zone's, or plain repair rubber), and its cushion."""
    cushion_kg = assumed.or_else(Assumption.CUSHION_KG_A_M2, Decimal(0))
    kg: dict[str, Decimal] = defaultdict(Decimal)
    for damage in damages:
        zone = bay.cures.get(damage.zone)
        own = damage.material or (zone.material if zone else None)
        litres = damage.injury.measured(InjuryMeasure.VOLUME_CM3) / 1000
        kg[own.code if own else REPAIR_RUBBER] += litres * assumed[Assumption.RUBBER_KG_A_LITRE]
        if zone is not None and zone.cushion is not None:
            square_metres = damage.injury.measured(InjuryMeasure.AREA_CM2) / 10_000
            kg[zone.cushion.code] += square_metres * cushion_kg
    return tuple(MaterialUse(material=code, quantity=quantity) for code, quantity in kg.items() if quantity)


def attended_kinds(site: Site) -> frozenset[StageKind]:
    """What somebody of the site stands beside without working on it."""
    cooling = {StageKind.PRESSURISED} if site.watch_cool_down else set[StageKind]()
    return frozenset({StageKind.ENERGISED, *cooling})


def _labour(site: Site, stages: list[Stage], bay: CostedBay, overtime: Decimal) -> Iterator[StageLabour]:
    """Hands-on work with its share of overtime, and the share of an attendant that a cure takes."""
    attended = attended_kinds(site)
    for stage in stages:
        minutes = Decimal(stage.minutes * stage.crew)
        if stage.kind is StageKind.HANDS_ON:
            yield StageLabour(
                stage=stage.name,
                grade=bay.grade_of(stage.skill),
                minutes=minutes,
                overtime_minutes=minutes * overtime,
            )
        elif stage.kind in attended:
            share = Decimal(stage.minutes) / site.cures_per_attendant
            yield StageLabour(stage=stage.name, grade=bay.grade_of(site.watch_skill), minutes=share)


def _heater_sets(
    order: WorkOrder, planned: list[tuple[Damage, tuple[Stage, ...]]], bay: CostedBay
) -> tuple[HeaterSetUse, ...]:
    held: dict[str, Decimal] = {}
    for damage, stages in planned:
        minutes = sum(stage.minutes for stage in stages if stage.block)
        code = bay.set_for(size_read(order.tyre.size).size, damage.zone) if minutes else None
        if code is not None:
            held[code] = held.get(code, Decimal(0)) + minutes
    return tuple(HeaterSetUse(heater_set=code, minutes=minutes) for code, minutes in held.items())
