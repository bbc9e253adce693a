"""What the cure of each injury depends on: layers, material, limits and chart, read once for all."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner.domain.cure_limits import CureLimit, CureLimits
from planner.engineering.cure.case import CureCase
from planner.engineering.cure.cure_chart import ChartPoint, CureChart
from planner.engineering.heat.rubber import Layer, Slab
from planner.models import CureChartLine, Damage, HeaterSetFit, Material, Site, ZoneCure
from planner.selectors.cure_limits import CureLimitTable, cooling_of, cure_limit_table_get, heating_of
from planner.selectors.cures import compound_get, layer_get


@dataclass(frozen=True, slots=True, kw_only=True)
class CureInput:
    """One injury's cure: the repair as the model sees it, and the chart that gives its minutes."""

    case: CureCase
    chart: CureChart
    thickness_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CureTables:
    """The site's materials, what it uses in which zone, its charts, its limits.

    `sets` holds the heater sets that fit a zone, where any set has limits of its own.
    """

    materials: Mapping[int, Material]
    zones: Mapping[str, ZoneCure]
    charts: Mapping[tuple[int, str], CureChart]
    limits: CureLimitTable
    sets: Mapping[str, tuple[int, ...]]

    def material_of(self, damage: Damage) -> Material | None:
        """What the injury is filled with: its own material, else the zone's."""
        zone = self.zones.get(damage.zone)
        return self.materials.get(damage.material_id or (zone.material_id if zone else 0))

    def limits_of(self, damage: Damage, heater_set_id: int | None = None) -> CureLimits:
        """The limits that hold for the injury's material on this set; None: on no set yet."""
        material = self.material_of(damage)
        return self.limits.limits_for(
            material_id=material.pk if material else None, heater_set_id=heater_set_id
        )

    def input_for(self, damage: Damage, heater_set_id: int | None = None) -> CureInput | None:
        """What the injury's cure on this set depends on; None where the site has no chart line for it.

        Raises InvalidValueError where a figure of the material that the model needs is missing.
        """
        zone, material = self.zones.get(damage.zone), self.material_of(damage)
        chart = self.charts.get((material.pk, zone.set_kind)) if zone and material else None
        if zone is None or material is None or chart is None:
            return None
        limits = self.limits_of(damage, heater_set_id)
        case = CureCase(
            slab=Slab(layers=tuple(self._layers(damage, zone, material))),
            compound=compound_get(material=material),
            area_m2=limits.value(CureLimit.PAD_AREA),
            rubber_c=limits.value(CureLimit.REPAIR),
            heating=heating_of(limits),
            cooling=cooling_of(limits),
            margin=limits.value(CureLimit.MARGIN),
        )
        return CureInput(case=case, chart=chart, thickness_mm=float(damage.depth_mm))

    def inputs_for(self, damage: Damage, heater_set_id: int | None = None) -> list[CureInput]:
        """One input for each way in which the cure may run: on this set, or on any that fits the zone."""
        sets = (heater_set_id,) if heater_set_id else self.sets.get(damage.zone, (None,))
        found = (self.input_for(damage, each) for each in sets)
        return list(dict.fromkeys(each for each in found if each is not None))

    def _layers(self, damage: Damage, zone: ZoneCure, fill: Material) -> Iterable[Layer]:
        """From inside to outside: casing and cushion where they were measured, then the fill."""
        for millimetres, material_id in (
            (damage.casing_mm, zone.casing_id),
            (damage.cushion_mm, zone.cushion_id),
        ):
            if millimetres and material_id:
                yield layer_get(material=self.materials[material_id], thickness_m=millimetres / 1000)
        yield layer_get(material=fill, thickness_m=damage.depth_mm / 1000)


def cure_tables_get(*, site: Site) -> CureTables:
    """Read the site's tables: four queries, and one more where a heater set has limits of its own."""
    lines: dict[tuple[int, str], list[ChartPoint]] = {}
    for row in CureChartLine.objects.filter(site=site).order_by("thickness_mm"):
        point = ChartPoint(thickness_mm=float(row.thickness_mm), timed_min=row.timed_min)
        lines.setdefault((row.material_id, row.set_kind), []).append(point)
    materials = {row.pk: row for row in Material.objects.filter(site=site)}
    limits = cure_limit_table_get(site=site)
    return CureTables(
        materials=materials,
        zones={row.zone: row for row in ZoneCure.objects.filter(site=site)},
        charts={
            (material, set_kind): CureChart(
                material=materials[material].code, set_kind=set_kind, points=tuple(points)
            )
            for (material, set_kind), points in lines.items()
        },
        limits=limits,
        sets=_sets_by_zone(site) if limits.names_sets else {},
    )


def _sets_by_zone(site: Site) -> dict[str, tuple[int, ...]]:
    fits = HeaterSetFit.objects.filter(heater_set__site=site, heater_set__active=True)
    found: dict[str, tuple[int, ...]] = {}
    for zone, heater_set in sorted(set(fits.values_list("zone", "heater_set_id"))):
        found[zone] = (*found.get(zone, ()), heater_set)
    return found
