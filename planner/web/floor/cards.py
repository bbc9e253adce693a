"""The tyres in a technician's hands today: for each the stage to begin or to end, and what comes after."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from django.utils.functional import Promise

from planner.domain.errors import NotFoundError
from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.problem import BayProblem
from planner.domain.states import StageRunState
from planner.selectors.accounts.approvals import waiting_get
from planner.selectors.floor_work import damage_of_job_get, stage_runs_by_order
from planner.selectors.nouns import Plan, StageRun
from planner.selectors.plans import plan_content_get
from planner.web.cautions import CAUTIONS
from planner.web.here import Here
from planner.web.sheet.sheet_view import SheetView
from planner.web.supervisor.naming import JobName, Names, names_get
from planner.web.timeline.appearance import stage_looks
from planner.web.timeline.ruler import local_time


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One tyre: its next stage by the plan, whether that runs, and what follows."""

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

    @property
    def is_over_time(self) -> bool:
        """Whether it runs longer than planned."""
        return self.minutes_left is not None and self.minutes_left < 0


def cards_of(here: Here, plan: Plan, own: SheetView, now: datetime) -> list[Card]:
    """A card for every tyre on the sheet that has a stage left; what runs comes first."""
    content = plan_content_get(plan=plan)
    wanted = {name.job for line in own.lines for name in line.tyres}
    desk = _Desk(
        here=here,
        problem=content.problem,
        names=names_get(here, content.problem),
        now=now,
        waiting=waiting_get(user=here.user, site=here.site),
    )
    runs = stage_runs_by_order(user=here.user, site=here.site)
    cards = [
        _card(desk, planned, at, run)
        for planned in content.plan.schedule.jobs
        if planned.id in wanted
        for at, run in _open_stage(here, planned, runs)
    ]
    return sorted(cards, key=lambda card: (card.running_since is None, card.start))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Desk:
    """What every card is written from."""

    here: Here
    problem: BayProblem
    names: Names
    now: datetime
    waiting: dict[str, str]

    def at(self, minute: int) -> datetime:
        return local_time(self.problem.origin, minute, self.here.zone)


def _card(desk: _Desk, planned: PlannedJob, at: int, run: StageRun | None) -> Card:
    stage, names = planned.stages[at], desk.names
    job = next(each for each in desk.problem.jobs if each.id == planned.id)
    look = stage_looks(job)[stage.name]
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
        cautions=CAUTIONS[look],
        waiting=desk.waiting.get(planned.id.partition(".")[0], ""),
    )


def _open_stage(
    here: Here, planned: PlannedJob, runs: dict[tuple[int, str], StageRun]
) -> Iterator[tuple[int, StageRun | None]]:
    """The first stage that is not over, with its run where it was begun."""
    try:
        damage = damage_of_job_get(user=here.user, site=here.site, job=planned.id)
    except NotFoundError:
        return
    for at, stage in enumerate(planned.stages):
        run = runs.get((damage.pk, stage.name))
        if run is None or run.state == StageRunState.RUNNING:
            yield at, run
            return


def _left(run: StageRun | None, stage: PlannedStage, now: datetime) -> int | None:
    if run is None:
        return None
    return stage.end - stage.start - int((now - run.started_at).total_seconds() // 60)
