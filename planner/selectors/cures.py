"""Reading charts, materials and logged cures; rows into the values of the cure."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from django.db.models import F, QuerySet, Sum
from django.db.models.functions import Coalesce

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.engineering.cure.compound import Compound
from planner.engineering.cure.cure_chart import ChartPoint, CureChart, OffChartError
from planner.engineering.cure.kinetics import Arrhenius, TenDegreeRule
from planner.engineering.cure_log.columns import ColumnMap, TimeKind
from planner.engineering.cure_log.units import PressureUnit, TemperatureUnit
from planner.engineering.heat.rubber import Layer
from planner.models import CureChartLine, Damage, LoggedCure, LoggerColumns, Material, MaterialLot, Site, User
from planner.selectors.access import require_on_site

NEAR_EXPIRY_DAYS = 30


def cure_chart_get(*, material: Material, set_kind: str) -> CureChart:
    """The chart of a material on a kind of set; OffChartError where the site has no line of it."""
    lines = CureChartLine.objects.filter(material=material, set_kind=set_kind).order_by("thickness_mm")
    points = [ChartPoint(thickness_mm=float(line.thickness_mm), timed_min=line.timed_min) for line in lines]
    if not points:
        raise OffChartError(
            _(
                "there is no chart of {material} on {set_kind}: enter the maker's chart first",
                material=material,
                set_kind=set_kind,
            )
        )
    return CureChart(material=material.code, set_kind=set_kind, points=tuple(points))


def compound_get(*, material: Material) -> Compound:
    """The material's figures of cure; InvalidValueError names what the maker's data still lacks."""
    figures = {name: _figure(material, name) for name in ("t90_min", "scorch_min", "reversion_min")}
    return Compound(name=material.code, law=_law(material), reversion_c=material.reversion_c, **figures)


def layer_get(*, material: Material, thickness_m: float) -> Layer:
    """A layer of the material so thick [m]."""
    names = ("conductivity_w_mk", "density_kg_m3", "heat_capacity_j_kgk")
    figures = {name: _figure(material, name) for name in names}
    return Layer(name=material.code, thickness_m=thickness_m, **figures)


def logger_columns_get(*, user: User, site: Site, logger: str) -> ColumnMap | None:
    """The columns remembered for a logger; None where it is new here."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    kept = LoggerColumns.objects.filter(site=site, logger=logger).first()
    return None if kept is None else column_map_of(kept.columns)


def logger_name_list(*, user: User, site: Site) -> list[str]:
    """The loggers whose columns are remembered."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return list(LoggerColumns.objects.filter(site=site).values_list("logger", flat=True))


def logged_cure_list(*, user: User, damage: Damage) -> QuerySet[LoggedCure]:
    """The logs of an injury's cures, first to last, without the files themselves, with their decisions."""
    require_on_site(user=user, site=damage.site, action=Action.SITE_READ)
    cures = LoggedCure.objects.filter(damage=damage).defer("file_raw").select_related("imported_by")
    return cures.prefetch_related("decisions__signed_by")


def lot_warning_list(*, user: User, site: Site, today: date) -> QuerySet[MaterialLot]:
    """Lots with something left that are expired or will be within thirty days, soonest first."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    lots = MaterialLot.objects.filter(site=site, expires_on__lte=today + timedelta(days=NEAR_EXPIRY_DAYS))
    left = F("quantity") - Coalesce(Sum("uses__quantity"), F("quantity") * 0)
    return lots.annotate(left=left).filter(left__gt=0).select_related("material")


def _figure(material: Material, name: str) -> float:
    value: float | None = getattr(material, name)
    if value is None:
        raise InvalidValueError(
            _(
                "{material} has no {figure}: enter the maker's figure",
                material=material,
                figure=name.replace("_", " "),
            )
        )
    return value


def _law(material: Material) -> Arrhenius | TenDegreeRule:
    reference_c = _figure(material, "reference_c")
    if material.activation_energy_j_mol is not None:
        return Arrhenius(reference_c=reference_c, activation_energy_j_mol=material.activation_energy_j_mol)
    return TenDegreeRule(reference_c=reference_c, factor=_figure(material, "ten_degree_factor"))


def column_map_of(kept: Mapping[str, Any]) -> ColumnMap:
    """A map of columns as it was kept."""
    return ColumnMap(
        time=kept["time"],
        inside=kept["inside"],
        outside=kept["outside"],
        pressure=tuple(kept["pressure"]),
        date=kept.get("date"),
        time_kind=TimeKind(kept["time_kind"]),
        time_zone=kept["time_zone"],
        temperature_unit=TemperatureUnit(kept["temperature_unit"]),
        pressure_unit=PressureUnit(kept["pressure_unit"]),
    )
