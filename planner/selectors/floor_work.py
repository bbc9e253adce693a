"""Reading the floor: the injury behind a job of the plan, and the tyres that are hot or under pressure."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.size_reading import size_read
from planner.domain.states import OPEN_WORK, StageRunState
from planner.domain.work import StageKind
from planner.models import Damage, RouteStage, Site, StageRun, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.routes import route_get

_HOT_KINDS = (StageKind.ENERGISED, StageKind.PRESSURISED)


@dataclass(frozen=True, slots=True, kw_only=True)
class HotTyre:
    """A tyre whose set is, or may be, energised or under pressure, and the stage that shows it.

    `damage` is the key of its injury.
    """

    work_order: str
    tyre: str
    stage: str
    heater_set: str
    damage: int


def damage_of_job_get(*, user: User, site: Site, job: str) -> Damage:
    """The injury that a job of a plan repairs: `WO-0012.2` is the second one of order 12."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    code, _, place = job.partition(".")
    digits, at = code.removeprefix("WO-"), int(place) - 1 if place.isdecimal() else 0
    damages = Damage.objects.filter(site=site, work_order__number=int(digits) if digits.isdecimal() else 0)
    found = list(damages.select_related("work_order", "tyre", "site")[at : at + 1])
    if not found:
        raise NotFoundError(f"there is no work {job} on {site}")
    return found[0]


def stage_runs_by_order(*, user: User, site: Site) -> dict[tuple[int, str], StageRun]:
    """The runs of all open work by injury and stage."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    runs = StageRun.objects.filter(site=site, work_order__state__in=OPEN_WORK)
    return {(run.damage_id, run.name): run for run in runs}


def hot_tyre_list(*, user: User, site: Site) -> list[HotTyre]:
    """Every tyre that was energised and whose set is not stripped yet.

    Between the end of a cure and the start of its cool-down the bags are still full, so a tyre counts from
    its first energised stage until the last stage of its heat block is over.
    """
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    begun = StageRun.objects.filter(site=site, heater_set__isnull=False)
    damages = Damage.objects.filter(pk__in=begun.values("damage")).select_related("tyre", "work_order__route")
    return [hot for damage in damages for hot in _hot(damage)]


def _hot(damage: Damage) -> Iterator[HotTyre]:
    order = damage.work_order
    if order is None:
        return
    block = _block(damage, order)
    runs = {run.sequence: run for run in damage.stage_runs.select_related("heater_set")}
    heated = [runs[stage.sequence] for stage in block if stage.kind in _HOT_KINDS and stage.sequence in runs]
    last = runs.get(block[-1].sequence) if block else None
    if heated and (last is None or last.state != StageRunState.DONE):
        newest = max(heated, key=lambda run: run.sequence)
        yield HotTyre(
            work_order=order.code,
            tyre=str(damage.tyre),
            stage=newest.name,
            heater_set=str(newest.heater_set),
            damage=damage.pk,
        )


def _block(damage: Damage, order: WorkOrder) -> list[RouteStage]:
    route = order.route or route_get(
        site=damage.site, size=size_read(damage.tyre.size).size, zone=damage.zone
    )
    return list(route.stages.filter(block=True))
