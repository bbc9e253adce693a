"""The problem of a stretch of days at one site."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.domain.plan import PlannedJob
from planner.domain.problem import BayProblem
from planner.domain.sentences import Sentence, _, kept, recalled, sentence_of
from planner.domain.states import PLANNABLE_WORK
from planner.domain.work import Job
from planner.models import Damage, Site, StageRun, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.day_problem.bay import power_off_of, rules_of
from planner.selectors.day_problem.clock import HorizonClock
from planner.selectors.day_problem.fitting import NoFitError
from planner.selectors.day_problem.jobs import JobMaker
from planner.selectors.day_problem.loading import BayRows, bay_load, cures_load, runs_by_damage, work_load

_LONGEST_DAYS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class NotEntered:
    """An injury of a work order that could not enter the problem, and why."""

    work_order: str
    tyre: str
    reason: Sentence

    @classmethod
    def of(cls, row: Mapping[str, Any]) -> "NotEntered":
        """As a plan keeps it; `told` is missing where an older release did."""
        told = recalled(row.get("told", row["reason"]))
        return cls(work_order=row["work_order"], tyre=row["tyre"], reason=told)

    def row(self) -> dict[str, Any]:
        """As a plan keeps it."""
        told = {"reason": str(self.reason), "told": kept(self.reason)}
        return {"work_order": self.work_order, "tyre": self.tyre, **told}


@dataclass(frozen=True, slots=True, kw_only=True)
class DayProblem:
    """A bay problem with what is not in it, and what the supervisor should know."""

    problem: BayProblem
    not_entered: tuple[NotEntered, ...] = ()
    warnings: tuple[Sentence, ...] = ()

    @property
    def end(self) -> datetime:
        """The horizon's end."""
        return self.problem.origin + timedelta(minutes=self.problem.horizon_end)


@dataclass(slots=True, kw_only=True)
class _Gathered:
    """What has been made so far."""

    jobs: list[Job] = field(default_factory=list)
    locked: list[PlannedJob] = field(default_factory=list)
    not_entered: list[NotEntered] = field(default_factory=list)
    warnings: list[Sentence] = field(default_factory=list)


def day_problem_get(
    *, user: User, site: Site, start: datetime, end: datetime, now: datetime | None = None
) -> DayProblem:
    """The bay problem of `site` from `start` to `end` (aware times on whole minutes), as it is now.

    Every order that is to be repaired or in hand gives a job for each injury, in the order of the
    tyre's orders. Durations come from its route and the injury, those of the cure from chart and model;
    sets and positions by size, zone and state. What cannot enter is named with its reason.
    InvalidValueError on a bad horizon.
    """
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    _refuse_bad_horizon(start, end)
    clock = HorizonClock(origin=start, time_zone=site.time_zone)
    rows = bay_load(site=site, clock=clock, start=start, end=end)
    orders = work_load(site=site)
    maker = _maker(site, clock, rows, orders, now or timezone.now())
    gathered = _gather(orders, runs_by_damage(site=site), maker)
    return DayProblem(
        problem=_problem(site, clock, clock.floor(end), rows, gathered),
        not_entered=tuple(gathered.not_entered),
        warnings=tuple(gathered.warnings),
    )


def order_obstacle_list(*, user: User, site: Site, order: WorkOrder) -> list[str]:
    """Why no plan that begins now could take in the order, were it to be repaired; empty where one could."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    now = timezone.now().replace(second=0, microsecond=0)
    clock = HorizonClock(origin=now, time_zone=site.time_zone)
    rows = bay_load(site=site, clock=clock, start=now, end=now + timedelta(days=site.horizon_days))
    maker = _maker(site, clock, rows, [order], now)
    gathered = _Gathered()
    for damage in order.damages.all():
        _enter(gathered, maker, order, damage, order.code, [], [])
    return [each.reason for each in gathered.not_entered]


def _maker(
    site: Site, clock: HorizonClock, rows: BayRows, orders: Sequence[WorkOrder], now: datetime
) -> JobMaker:
    return JobMaker(
        tables=rows.tables,
        moment=rows.moment(clock, site, now),
        cures=cures_load(site=site, orders=orders),
    )


def _gather(orders: Iterable[WorkOrder], runs: dict[int, list[StageRun]], maker: JobMaker) -> _Gathered:
    gathered = _Gathered()
    before: dict[int, str] = {}
    for order in orders:
        if order.state not in PLANNABLE_WORK:
            continue
        if not order.damages.all():
            _leave_out(gathered, order, _("no damage is on record for it"))
        for place, damage in enumerate(order.damages.all(), start=1):
            job_id = order.code if place == 1 else f"{order.code}.{place}"
            after = [before[order.tyre_id]] if order.tyre_id in before else []
            if _enter(gathered, maker, order, damage, job_id, after, runs[damage.pk]):
                before[order.tyre_id] = job_id
    return gathered


def _enter(
    gathered: _Gathered,
    maker: JobMaker,
    order: WorkOrder,
    damage: Damage,
    job_id: str,
    after: list[str],
    runs: list[StageRun],
) -> bool:
    """Add the job of one injury, or the reason why not; whether there is a job now."""
    try:
        made = maker.job(order, damage, job_id, after, runs)
    except (NoFitError, InvalidValueError) as reason:
        _leave_out(gathered, order, sentence_of(reason))
        return False
    gathered.warnings += made.warnings
    if made.job is None:
        return False
    gathered.jobs.append(made.job)
    if made.locked is not None:
        gathered.locked.append(made.locked)
    return True


def _leave_out(gathered: _Gathered, order: WorkOrder, reason: Sentence) -> None:
    gathered.not_entered.append(NotEntered(work_order=order.code, tyre=str(order.tyre), reason=reason))


def _problem(
    site: Site, clock: HorizonClock, horizon_end: int, rows: BayRows, gathered: _Gathered
) -> BayProblem:
    return BayProblem(
        time_zone=site.time_zone,
        origin=clock.origin,
        horizon_end=horizon_end,
        grid_minutes=site.grid_minutes,
        rules=rules_of(site),
        technicians=rows.technicians,
        positions=rows.positions,
        heater_sets=rows.heater_sets(clock, horizon_end),
        power_off=power_off_of(rows.isolations, clock),
        jobs=tuple(gathered.jobs),
        locked=tuple(gathered.locked),
    )


def _refuse_bad_horizon(start: datetime, end: datetime) -> None:
    if start.tzinfo is None or end.tzinfo is None:
        raise InvalidValueError(_("the horizon's start and end must carry their offset from UTC"))
    if any(at.second or at.microsecond for at in (start, end)):
        raise InvalidValueError(_("the horizon's start and end must be on whole minutes"))
    if not start < end:
        raise InvalidValueError(_("the horizon must end after it starts"))
    if (end - start).days > _LONGEST_DAYS:
        raise InvalidValueError(_("a plan covers at most {longest_days} days", longest_days=_LONGEST_DAYS))
