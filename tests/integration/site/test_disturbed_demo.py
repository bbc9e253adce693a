"""The demo site after a bad turn of the day: records in, a plan that holds, each move with its cause."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from planner.domain.plan import BayPlan, PlannedJob, PlannedStage, PlanStatus, Schedule
from planner.domain.problem import BayProblem
from planner.domain.states import StageRunState, WorkOrderState
from planner.models import (
    Closure,
    Damage,
    HeaterSet,
    Position,
    RosterException,
    Site,
    StageRun,
    Technician,
    User,
    WorkOrder,
)
from planner.scheduling.dispatch import dispatch
from planner.scheduling.score import score
from planner.scheduling.verify import schedule_verify
from planner.selectors.day_problem import day_problem_get
from planner.selectors.plan_moves import promised_still
from planner.selectors.plans import PlanContent
from planner.services.rosters import shifts_make
from planner.solver.limits import SolveLimits
from planner.solver.replan import MovedJob, moved_jobs, replan

TODAY = date(2026, 11, 25)
LIMITS = SolveLimits(work=0.3)


@dataclass(frozen=True)
class Bay:
    """The demo site with a published week; minutes count from its first midnight."""

    site: Site
    user: User
    problem: BayProblem
    published: Schedule

    def at(self, minute: int) -> datetime:
        """A minute of the published plan as a moment."""
        return datetime.combine(TODAY, time(), tzinfo=ZoneInfo(self.site.time_zone)) + timedelta(
            minutes=minute
        )

    def again(self, minute: int) -> tuple[BayProblem, dict[str, MovedJob]]:
        """Plan again from that minute on: the problem by the site's records then, and what moves."""
        start, end = self.at(minute), self.at(self.problem.horizon_end)
        now = day_problem_get(user=self.user, site=self.site, start=start, end=end, now=start).problem
        promised = promised_still(now, _content(self.problem, self.published))
        new = replan(now, promised, stability=20, limits=LIMITS)
        assert schedule_verify(now, new) == ()
        assert score(now, new.jobs) < score(now, ())
        return now, {one.job: one for one in moved_jobs(self.problem, promised, now, new)}

    def begun_here(self) -> list[PlannedJob]:
        """The planned jobs that were not in hand already when the plan was published."""
        return [job for job in self.published.jobs if job.id not in {one.id for one in self.problem.locked}]

    def record_until(self, minute: int, running: str = "") -> None:
        """What the plan begins until then is done as planned; the cure of `running` still goes on."""
        for job in self.begun_here():
            code, _, part = job.id.partition(".")
            order = WorkOrder.objects.get(number=int(code.removeprefix("WO-")), site=self.site)
            damage = order.damages.all()[int(part or 1) - 1]
            begun = [stage for stage in job.stages if stage.start < minute]
            if job.id == running:
                begun = begun[: [stage.name for stage in job.stages].index("Cure") + 1]
            for stage in begun:
                over = stage.end <= minute and not (job.id == running and stage is begun[-1])
                self._record(order, damage, stage, job.stages.index(stage) + 1, over)

    def _record(
        self, order: WorkOrder, damage: Damage, stage: PlannedStage, sequence: int, over: bool
    ) -> None:
        run = StageRun.objects.create(
            site=self.site, work_order=order, damage=damage, sequence=sequence, name=stage.name,
            state=StageRunState.DONE if over else StageRunState.RUNNING,
            started_at=self.at(stage.start), ended_at=self.at(stage.end) if over else None,
            position=Position.objects.filter(site=self.site, code=stage.position or "").first(),
            heater_set=HeaterSet.objects.filter(site=self.site, code=stage.heater_set or "").first(),
        )  # fmt: skip
        run.technicians.set(Technician.objects.filter(site=self.site, code__in=stage.technicians))
        WorkOrder.objects.filter(pk=order.pk).update(state=WorkOrderState.IN_HAND)


def _content(problem: BayProblem, schedule: Schedule) -> PlanContent:
    plan = BayPlan(
        problem_sha256="0" * 64, status=PlanStatus.FEASIBLE, score=score(problem, schedule.jobs), bound=0,
        schedule=schedule,
    )  # fmt: skip
    return PlanContent(problem=problem, plan=plan)


@pytest.fixture
def bay(demo_loaded: Callable[[date], None]) -> Bay:
    """The demo site, one of its tyres not yet come in, with a week that is published."""
    demo_loaded(TODAY)
    site, user = Site.objects.get(code="halfmoon"), User.objects.get(username="silas")
    late_comer = WorkOrder.objects.filter(site=site, state=WorkOrderState.TO_REPAIR).latest("number")
    WorkOrder.objects.filter(pk=late_comer.pk).update(state=WorkOrderState.ON_HOLD)
    start = datetime.combine(TODAY, time(), tzinfo=ZoneInfo(site.time_zone))
    problem = day_problem_get(
        user=user, site=site, start=start, end=start + timedelta(days=7), now=start
    ).problem
    return Bay(site, user, problem, dispatch(problem))


def _used_most(names: Iterable[str | None]) -> str:
    return Counter(name for name in names if name).most_common(1)[0][0]


@contextmanager
def _out(bay: Bay, code: str, turn: int) -> Iterator[None]:
    """A heater set that is closed from then on."""
    closure = Closure.objects.create(
        site=bay.site, heater_set=HeaterSet.objects.get(site=bay.site, code=code), reason="a burnt pad",
        starts_at=bay.at(turn), ends_at=bay.at(bay.problem.horizon_end),
    )  # fmt: skip
    yield
    closure.delete()


@contextmanager
def _sick(bay: Bay, code: str, day: date) -> Iterator[None]:
    """Somebody who is not there for a day."""
    person = Technician.objects.get(site=bay.site, code=code)
    off = RosterException.objects.create(site=bay.site, technician=person, day=day, reason="sick")
    administrator = User.objects.get(username="adele")
    shifts_make(user=administrator, site=bay.site, first_day=day, last_day=day)
    yield
    off.delete()
    shifts_make(user=administrator, site=bay.site, first_day=day, last_day=day)


def _urgent_arrives(bay: Bay, turn: int) -> None:
    WorkOrder.objects.filter(site=bay.site, state=WorkOrderState.ON_HOLD).update(
        state=WorkOrderState.TO_REPAIR, priority=100, released_at=bay.at(turn), needed_by=bay.at(turn + 600)
    )


def _told(moved: dict[str, MovedJob], code: str, what: str) -> set[object]:
    return {one.reason.figures[what] for one in moved.values() if one.reason.code == code}


def test_four_bad_turns_of_one_morning(bay: Bay) -> None:
    cures = [(s.end, job.id) for job in bay.begun_here() for s in job.stages if s.name == "Cure"]
    turn, running = min(cures)[0] + 40, min(cures)[1]
    bay.record_until(turn, running=running)
    ahead = [stage for job in bay.published.jobs for stage in job.stages if stage.start > turn]

    # A cure that should be over goes on: the tyre itself moves, and says so.
    now, moved = bay.again(turn)
    assert moved[running].reason.code == "runs_over"

    # The set that the plan uses most fails; not the one with a hot tyre on it.
    busy = {stage.heater_set for lock in now.locked for stage in lock.stages}
    failed = _used_most(stage.heater_set for stage in ahead if stage.heater_set not in busy)
    with _out(bay, failed, turn):
        _, moved = bay.again(turn)
    assert _told(moved, "set_out", "heater_set") == {failed}

    # The technician with most work tomorrow calls in sick.
    tomorrow = [stage for stage in ahead if 1440 <= stage.start < 2 * 1440]
    sick = _used_most(name for stage in tomorrow for name in stage.technicians)
    with _sick(bay, sick, TODAY + timedelta(days=1)):
        _, moved = bay.again(turn)
    assert _told(moved, "technician_away", "technician") == {sick}

    _urgent_arrives(bay, turn)
    now, moved = bay.again(turn)
    new = {job.id for job in now.jobs} - {job.id for job in bay.problem.jobs}
    assert {job for job, one in moved.items() if one.reason.code == "arrived"} == new
    assert "made_room" in {one.reason.code for one in moved.values()}
