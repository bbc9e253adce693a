"""The tyres in hand today: for each the stage to begin or to end, who attends it, and what comes after."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.utils.functional import Promise

from planner.domain.cure_limits import CureLimit, CureLimits
from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.problem import BayProblem
from planner.domain.states import StageRunState
from planner.selectors.accounts.approvals import waiting_get
from planner.selectors.attendance import AttendedTyre
from planner.selectors.floor_work import FloorJob, floor_job_map
from planner.selectors.job_limits import JobLimits, job_limits_get
from planner.selectors.nouns import CureReading, StageRun
from planner.selectors.plans import PlanContent
from planner.selectors.stage_taps import LastTap
from planner.web.cautions import CAUTIONS
from planner.web.here import Here
from planner.web.limit_cautions import limit_cautions
from planner.web.sheet.sheet_view import SheetView
from planner.web.supervisor.naming import JobName, Names, names_get
from planner.web.timeline.appearance import Look, stage_looks
from planner.web.timeline.ruler import local_time

_PLAIN_WORK = (Look.HANDS_ON, Look.WAIT)
_HOT = (Look.HEAT_UP, Look.CURE, Look.COOL_DOWN)


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One tyre: its next stage by the plan, whether that runs, who attends it, and what follows."""

    name: JobName
    stage: PlannedStage
    look: str
    start: datetime
    end: datetime
    running_since: datetime | None
    minutes_left: int | None
    people: str
    place: str
    following: str
    cautions: tuple[str | Promise, ...]
    waiting: str
    damage: int
    attendant: str
    is_hot: bool
    is_read: bool
    read_last: CureReading | None
    read_by: datetime | None
    last_tap: LastTap | None
    now: datetime

    @property
    def is_over_time(self) -> bool:
        """Whether it runs longer than planned."""
        return self.minutes_left is not None and self.minutes_left < 0

    @property
    def minutes_over(self) -> int:
        """By how much [min]."""
        return -(self.minutes_left or 0)

    @property
    def is_early(self) -> bool:
        """Whether ending it now looks like a slip: heat is timed to the minute, hands-on work is not."""
        planned = self.stage.end - self.stage.start
        return (self.minutes_left or 0) > (0 if self.is_hot else planned // 5)

    @property
    def is_other_day(self) -> bool:
        """Whether the plan has it on another day than today, so that its times need a day."""
        return self.start.date() != self.now.astimezone(self.start.tzinfo).date()

    @property
    def is_read_late(self) -> bool:
        """Whether the gauges should have been read again by now."""
        return self.read_by is not None and self.read_by < self.now


def cards_of(
    here: Here,
    content: PlanContent,
    wanted: Collection[str],
    attended: Collection[AttendedTyre],
    taps: Collection[LastTap],
    now: datetime,
) -> list[Card]:
    """A card for each of the jobs that has a stage left; what runs comes first.

    `taps` are those that the reader may take back; each stands on its tyre's card.
    """
    planned = [job for job in content.plan.schedule.jobs if job.id in wanted]
    desk = _Desk(
        here=here,
        problem=content.problem,
        names=names_get(here, content.problem),
        now=now,
        waiting=waiting_get(user=here.user, site=here.site),
        jobs=floor_job_map(user=here.user, site=here.site, jobs=wanted),
        limits=job_limits_get(user=here.user, site=here.site),
        attendants={
            each.hot.damage: str(each.watch.technician)
            for each in attended
            if each.is_attended and each.watch
        },
        taps={tap.run.damage_id: tap for tap in taps},
    )
    cards = [_card(desk, job, at) for job in planned if (at := _open_stage(desk, job)) is not None]
    return sorted(cards, key=lambda card: (card.running_since is None, card.start))


def own_jobs(own: SheetView) -> set[str]:
    """The jobs on a technician's sheet."""
    return {name.job for line in own.lines for name in line.tyres}


def jobs_of_day(content: PlanContent, until: datetime) -> set[str]:
    """Everybody's jobs that begin before `until`; those that are over have no card."""
    last = (until - content.problem.origin.astimezone(UTC)) // timedelta(minutes=1)
    return {job.id for job in content.plan.schedule.jobs if job.stages[0].start < last}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Desk:
    """What every card is written from."""

    here: Here
    problem: BayProblem
    names: Names
    now: datetime
    waiting: Mapping[str, str]
    jobs: Mapping[str, FloorJob]
    limits: JobLimits
    attendants: Mapping[int, str]
    taps: Mapping[int, LastTap]

    def at(self, minute: int) -> datetime:
        return local_time(self.problem.origin, minute, self.here.zone)


def _card(desk: _Desk, planned: PlannedJob, at: int) -> Card:
    stage, names, kept = planned.stages[at], desk.names, desk.jobs[planned.id]
    job = next(each for each in desk.problem.jobs if each.id == planned.id)
    look, run = stage_looks(job)[stage.name], kept.runs.get(stage.name)
    limits = desk.limits.of(kept.damage, stage.heater_set)
    places = (stage.heater_set, stage.position)
    return Card(
        name=names.job(planned.id),
        stage=stage,
        look=look,
        start=desk.at(stage.start),
        end=desk.at(stage.end),
        running_since=run.started_at if run else None,
        minutes_left=_left(run, stage, desk.now),
        people=", ".join(names.resource(each) for each in stage.technicians),
        place=" · ".join(names.resource(each) for each in places if each),
        following=planned.stages[at + 1].name if at + 1 < len(planned.stages) else "",
        cautions=(
            *limit_cautions(look, limits, desk.here.reading),
            *_cautions(kept.cautions.get(stage.name), look),
        ),
        waiting=desk.waiting.get(planned.id.partition(".")[0], ""),
        damage=kept.damage.pk,
        attendant=desk.attendants.get(kept.damage.pk, ""),
        is_hot=look in _HOT,
        is_read=run is not None and stage.heater_set is not None,
        read_last=kept.read_last,
        read_by=_read_by(run, kept.read_last, limits) if look in _HOT else None,
        last_tap=desk.taps.get(kept.damage.pk),
        now=desk.now,
    )


def _read_by(run: StageRun | None, last: CureReading | None, limits: CureLimits | None) -> datetime | None:
    """When the gauges have to be read next, by the site's own limit; None where nothing runs or holds."""
    if run is None or limits is None:
        return None
    since = max(run.started_at, last.taken_at) if last else run.started_at
    return since + timedelta(minutes=limits.value(CureLimit.HAND_GAP))


def _cautions(own: str | None, look: Look) -> tuple[str | Promise, ...]:
    """The site's own words for the stage, and beside heat and pressure the usual ones always."""
    usual = () if own and look in _PLAIN_WORK else CAUTIONS[look]
    return (own, *usual) if own else usual


def _open_stage(desk: _Desk, planned: PlannedJob) -> int | None:
    """The place of the first stage that is not over; None where all are, or the work is closed."""
    kept = desk.jobs.get(planned.id)
    if kept is None:
        return None
    for at, stage in enumerate(planned.stages):
        run = kept.runs.get(stage.name)
        if run is None or run.state == StageRunState.RUNNING:
            return at
    return None


def _left(run: StageRun | None, stage: PlannedStage, now: datetime) -> int | None:
    if run is None:
        return None
    return stage.end - stage.start - int((now - run.started_at).total_seconds() // 60)
