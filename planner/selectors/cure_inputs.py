"""What the cure of each injury depends on: layers, material and chart, read once for all."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner.engineering.cure.case import CureCase
from planner.engineering.cure.cure_chart import ChartPoint, CureChart
from planner.engineering.heat.rubber import Layer, Slab
from planner.models import CureChartLine, Damage, Material, Site, ZoneCure
from planner.selectors.cures import compound_get, layer_get


@dataclass(frozen=True, slots=True, kw_only=True)
class CureInput:
    """One injury's cure: the repair as the model sees it, and the chart that gives its minutes."""

    case: CureCase
    chart: CureChart
    thickness_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CureTables:
    """The site's materials, what it uses in which zone, and its charts."""

    materials: Mapping[int, Material]
    zones: Mapping[str, ZoneCure]
    charts: Mapping[tuple[int, str], CureChart]

    def input_for(self, damage: Damage) -> CureInput | None:
        """What the injury's cure depends on; None where the site has no chart line for it.

        Raises InvalidValueError where a figure of the material that the model needs is missing.
        """
        zone = self.zones.get(damage.zone)
        if zone is None:
            return None
        material = self.materials[damage.material_id or zone.material_id]
        chart = self.charts.get((material.pk, zone.set_kind))
        if chart is None:
            return None
        slab = Slab(layers=tuple(self._layers(damage, zone, material)))
        case = CureCase(slab=slab, compound=compound_get(material=material))
        return CureInput(case=case, chart=chart, thickness_mm=float(damage.depth_mm))

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
    """Read the site's tables: three queries, and one where the site has no chart."""
    lines: dict[tuple[int, str], list[ChartPoint]] = {}
    for row in CureChartLine.objects.filter(site=site).order_by("thickness_mm"):
        point = ChartPoint(thickness_mm=float(row.thickness_mm), timed_min=row.timed_min)
        lines.setdefault((row.material_id, row.set_kind), []).append(point)
    if not lines:
        return CureTables(materials={}, zones={}, charts={})
    materials = {row.pk: row for row in Material.objects.filter(site=site)}
    return CureTables(
        materials=materials,
        zones={row.zone: row for row in ZoneCure.objects.filter(site=site)},
        charts={
            (material, set_kind): CureChart(
                material=materials[material].code, set_kind=set_kind, points=tuple(points)
            )
            for (material, set_kind), points in lines.items()
        },
    )
