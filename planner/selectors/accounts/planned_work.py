"""What a repair is expected to take, from its route, its injuries and the site's assumptions."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from planner.costing.assumptions import Assumed, Assumption
from planner.costing.work import HeaterSetUse, MaterialUse, RepairWork, StageLabour
from planner.domain.injury import InjuryMeasure
from planner.domain.size_reading import size_read
from planner.domain.sizes import SizeRange
from planner.domain.work import Stage, StageKind
from planner.models import Damage, HeaterSet, Site, Technician, WorkOrder, ZoneCure
from planner.selectors.day_problem.jobs import stages_of
from planner.selectors.routes import route_get

REPAIR_RUBBER = "repair rubber"
UNGRADED = "technician"


@dataclass(frozen=True, slots=True, kw_only=True)
class Grades:
    """The usual grade of each skill: the commonest among the technicians who have it."""

    by_skill: dict[str, str]

    def of(self, skill: str | None) -> str:
        """The grade that is paid for work with this skill."""
        return self.by_skill.get(skill or "", UNGRADED)


def grades_get(*, site: Site) -> Grades:
    """The usual grade of each skill on the site."""
    found: dict[str, Counter[str]] = {}
    for technician in Technician.objects.filter(site=site, active=True).prefetch_related("skills"):
        for skill in technician.skills.all():
            found.setdefault(skill.code, Counter())[technician.grade or UNGRADED] += 1
    usual = {skill: min(grades, key=lambda grade: (-grades[grade], grade)) for skill, grades in found.items()}
    return Grades(by_skill=usual)


def planned_work_get(*, order: WorkOrder, assumed: Assumed, grades: Grades) -> RepairWork:
    """The work of every injury of the order; InvalidValueError or NotFoundError says what is missing."""
    planned = [(damage, _stages(order, damage)) for damage in order.damages.all()]
    stages = [stage for _, each in planned for stage in each]
    overtime = assumed.or_else(Assumption.OVERTIME_SHARE, Decimal(0))
    hot = sum((stage.minutes for stage in stages if stage.kind is StageKind.ENERGISED), 0)
    return RepairWork(
        labour=summed_labour(_labour(order.site, stages, grades, overtime)),
        materials=_fill(order, [damage for damage, _ in planned], assumed[Assumption.RUBBER_KG_A_LITRE]),
        energy_kwh=assumed[Assumption.SET_KWH_AN_HOUR] * hot / 60,
        heater_sets=_heater_sets(order, planned),
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


def _stages(order: WorkOrder, damage: Damage) -> tuple[Stage, ...]:
    size = size_read(order.tyre.size).size
    route = order.route or route_get(site=order.site, size=size, zone=damage.zone)
    return stages_of(route, damage)


def _fill(order: WorkOrder, damages: list[Damage], kg_a_litre: Decimal) -> tuple[MaterialUse, ...]:
    """What fills each injury: its own material, else the zone's, else plain repair rubber."""
    usual = dict(ZoneCure.objects.filter(site=order.site).values_list("zone", "material__code"))
    kg: dict[str, Decimal] = {}
    for damage in damages:
        own = damage.material.code if damage.material else usual.get(damage.zone, REPAIR_RUBBER)
        litres = damage.injury.measured(InjuryMeasure.VOLUME_CM3) / 1000
        kg[own] = kg.get(own, Decimal(0)) + litres * kg_a_litre
    return tuple(MaterialUse(material=code, quantity=quantity) for code, quantity in kg.items() if quantity)


def attended_kinds(site: Site) -> frozenset[StageKind]:
    """What somebody of the site stands beside without working on it."""
    cooling = {StageKind.PRESSURISED} if site.watch_cool_down else set[StageKind]()
    return frozenset({StageKind.ENERGISED, *cooling})


def _labour(site: Site, stages: list[Stage], grades: Grades, overtime: Decimal) -> Iterator[StageLabour]:
    """Hands-on work with its share of overtime, and the share of an attendant that a cure takes."""
    attended = attended_kinds(site)
    for stage in stages:
        minutes = Decimal(stage.minutes * stage.crew)
        if stage.kind is StageKind.HANDS_ON:
            yield StageLabour(
                stage=stage.name,
                grade=grades.of(stage.skill),
                minutes=minutes,
                overtime_minutes=minutes * overtime,
            )
        elif stage.kind in attended:
            share = Decimal(stage.minutes) / site.cures_per_attendant
            yield StageLabour(stage=stage.name, grade=grades.of(site.watch_skill), minutes=share)


def _heater_sets(
    order: WorkOrder, planned: list[tuple[Damage, tuple[Stage, ...]]]
) -> tuple[HeaterSetUse, ...]:
    held: dict[str, Decimal] = {}
    for damage, stages in planned:
        minutes = sum(stage.minutes for stage in stages if stage.block)
        code = _fitting_set(order, damage) if minutes else None
        if code is not None:
            held[code] = held.get(code, Decimal(0)) + minutes
    return tuple(HeaterSetUse(heater_set=code, minutes=minutes) for code, minutes in held.items())


def _fitting_set(order: WorkOrder, damage: Damage) -> str | None:
    """The first set, by code, that fits the size and the zone."""
    size = size_read(order.tyre.size).size
    sets = HeaterSet.objects.filter(site=order.site, active=True, fits__zone=damage.zone).distinct()
    for row in sets.prefetch_related("fits"):
        for fit in row.fits.all():
            ends = size_read(fit.smallest_size).size, size_read(fit.largest_size).size
            if fit.zone == damage.zone and SizeRange(smallest=ends[0], largest=ends[1]).holds(size):
                return row.code
    return None
