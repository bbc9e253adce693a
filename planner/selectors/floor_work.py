"""Reading the floor: the injury behind a job of the plan, and the tyres that are hot or under pressure."""

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.size_reading import size_read
from planner.domain.states import OPEN_WORK, StageRunState, WorkOrderState
from planner.domain.work import StageKind
from planner.models import CureReading, Damage, RouteStage, Site, StageRun, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.routes import RouteTable, route_table_get

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
    code, _dot, place = job.partition(".")
    digits, at = code.removeprefix("WO-"), int(place) - 1 if place.isdecimal() else 0
    damages = Damage.objects.filter(site=site, work_order__number=int(digits) if digits.isdecimal() else 0)
    found = list(damages.select_related("work_order", "tyre", "site")[at : at + 1])
    if not found:
        raise NotFoundError(_("there is no work {job} on {site}", job=job, site=site))
    return found[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorJob:
    """The injury behind a job with its runs by stage, the site's caution for each stage, the last reading."""

    damage: Damage
    runs: Mapping[str, StageRun]
    cautions: Mapping[str, str]
    read_last: CureReading | None


def floor_job_map(*, user: User, site: Site, jobs: Collection[str]) -> dict[str, FloorJob]:
    """Those of the jobs whose work is open, in the same number of queries for one and for many."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    damages = Damage.objects.filter(site=site, work_order__state__in=OPEN_WORK).order_by("work_order", "pk")
    places: dict[int, int] = defaultdict(int)
    found: dict[str, Damage] = {}
    for damage in damages.select_related("work_order__route", "tyre"):
        order = _order(damage)
        places[order.pk] += 1
        job = order.code if places[order.pk] == 1 else f"{order.code}.{places[order.pk]}"
        if job in jobs:
            found[job] = damage
    runs: dict[int, dict[str, StageRun]] = defaultdict(dict)
    for run in StageRun.objects.filter(damage__in=[damage.pk for damage in found.values()]):
        runs[run.damage_id][run.name] = run
    table, read_last = route_table_get(site=site), _read_last(found.values())
    return {
        job: FloorJob(
            damage=damage, runs=runs[damage.pk], cautions=_cautions(table, damage),
            read_last=read_last.get(damage.pk),
        )
        for job, damage in found.items()
    }  # fmt: skip


def _read_last(damages: Collection[Damage]) -> dict[int, CureReading]:
    """The newest reading of each injury that holds."""
    rows = CureReading.objects.filter(damage__in=[damage.pk for damage in damages], corrected_by__isnull=True)
    return {row.damage_id: row for row in rows.exclude(as_typed="").order_by("taken_at", "pk")}


def hot_tyre_list(*, user: User, site: Site) -> list[HotTyre]:
    """Every tyre that was energised and whose set is not stripped yet.

    Between the end of a cure and the start of its cool-down the bags are still full, so a tyre counts from
    its first energised stage until the last stage of its heat block is over. A repaired tyre has every stage
    behind it; all others are looked at, whatever was decided on them, in the same number of queries.
    """
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return hot_tyres_of(site=site)


def hot_tyres_of(*, site: Site) -> list[HotTyre]:
    """The same for whoever was let in already, and for the clock."""
    begun = StageRun.objects.filter(site=site, heater_set__isnull=False)
    begun = begun.exclude(work_order__state=WorkOrderState.REPAIRED)
    damages = list(
        Damage.objects.filter(pk__in=begun.values("damage"))
        .select_related("tyre", "work_order__route")
        .prefetch_related("stage_runs__heater_set", "work_order__route__stages")
    )
    table = route_table_get(site=site) if damages else None
    return [hot for damage in damages if table for hot in _hot(damage, table)]


def _hot(damage: Damage, table: RouteTable) -> Iterator[HotTyre]:
    runs = {run.sequence: run for run in damage.stage_runs.all()}
    heated = _heated(_stages(table, damage), runs)
    if heated:
        newest = max(heated, key=lambda run: run.sequence)
        yield HotTyre(
            work_order=_order(damage).code,
            tyre=str(damage.tyre),
            stage=newest.name,
            heater_set=str(newest.heater_set),
            damage=damage.pk,
        )


def _heated(stages: Sequence[RouteStage], runs: Mapping[int, StageRun]) -> list[StageRun]:
    """The runs that heated the tyre; none where its set was stripped since."""
    block = [stage for stage in stages if stage.block]
    if not block:
        # Its route was ended meanwhile, so nothing says which stage strips the set: it counts as hot.
        return [run for run in runs.values() if run.heater_set_id is not None]
    last = runs.get(block[-1].sequence)
    if last is not None and last.state == StageRunState.DONE:
        return []
    return [runs[stage.sequence] for stage in block if stage.kind in _HOT_KINDS and stage.sequence in runs]


def _cautions(table: RouteTable, damage: Damage) -> dict[str, str]:
    return {stage.name: stage.caution for stage in _stages(table, damage) if stage.caution}


def _stages(table: RouteTable, damage: Damage) -> list[RouteStage]:
    route = _order(damage).route or table.route(size_read(damage.tyre.size).size, damage.zone)
    return [] if route is None else list(route.stages.all())


def _order(damage: Damage) -> WorkOrder:
    if damage.work_order is None:
        raise NotFoundError(_("{damage} has no work order", damage=damage))
    return damage.work_order
