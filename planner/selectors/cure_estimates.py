"""The stage minutes of one injury's cure: the chart's figure with the model's verdict beside it."""

from dataclasses import dataclass

from planner.domain.injury import InjurySource
from planner.domain.permissions import Action
from planner.engineering.cure.bands import CureBands, cure_bands
from planner.engineering.cure.case import Cooling, CureCase, Heating
from planner.engineering.cure.cure_chart import ChartCheck, OffChartError, chart_check
from planner.engineering.cure.estimate import CureEstimate, cure_estimate, cure_outcome
from planner.engineering.heat.rubber import Slab
from planner.models import Damage, Material, User
from planner.selectors.access import require_on_site
from planner.selectors.cures import compound_get, cure_chart_get, layer_get


@dataclass(frozen=True, slots=True, kw_only=True)
class CureMinutes:
    """What a plan needs of one cure. `timed_min` is the chart's and never the model's [min].

    `timed_min` and `check` are None where the chart has no figure; `refusal` then says what to do.
    """

    heat_up_min: int
    timed_min: int | None
    cool_down_min: int
    provisional: bool
    check: ChartCheck | None
    refusal: str
    model: CureEstimate
    bands: CureBands


def cure_minutes_get(
    *,
    user: User,
    damage: Damage,
    material: Material,
    set_kind: str,
    heating: Heating | None = None,
    cooling: Cooling | None = None,
) -> CureMinutes:
    """Stage minutes for an injury as deep as it is told now; provisional until it was measured.

    Raises InvalidValueError where the material's figures are incomplete or out of range.
    """
    require_on_site(user=user, site=damage.site, action=Action.SITE_READ)
    thickness_m = damage.depth_mm / 1000
    case = CureCase(
        slab=Slab(layers=(layer_get(material=material, thickness_m=thickness_m),)),
        compound=compound_get(material=material),
        heating=heating or Heating(),
        cooling=cooling or Cooling(),
    )
    needed = cure_estimate(case)
    check, refusal, cooled = None, "", needed
    try:
        reading = cure_chart_get(material=material, set_kind=set_kind).read(damage.depth_mm)
    except OffChartError as error:
        refusal = str(error)
    else:
        cooled = cure_outcome(case, timed_min=reading.timed_min)
        check = chart_check(reading, needed=needed, charted=cooled, thickness_m=thickness_m)
    return CureMinutes(
        heat_up_min=needed.heat_up_min,
        timed_min=None if check is None else check.planned_min,
        cool_down_min=cooled.cool_down_min,
        provisional=damage.source != InjurySource.MEASURED,
        check=check,
        refusal=refusal,
        model=needed,
        bands=cure_bands(case),
    )


def cure_minutes_change(before: CureMinutes, after: CureMinutes) -> str:
    """What a new measurement did to the cure, in one sentence; empty where nothing changed."""
    parts = [
        f"{name} {_told(old)} → {_told(new)}"
        for name, old, new in (
            ("heat-up", before.heat_up_min, after.heat_up_min),
            ("cure", before.timed_min, after.timed_min),
            ("cool-down", before.cool_down_min, after.cool_down_min),
        )
        if old != new
    ]
    return ", ".join(parts)


def _told(minutes: int | None) -> str:
    return "off the chart" if minutes is None else f"{minutes} min"
