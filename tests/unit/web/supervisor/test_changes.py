"""What moves against the plan that holds."""

from datetime import timedelta

from planner.domain.plan import BayPlan, PlanStatus, Schedule, Score
from planner.selectors.plan_moves import promised_still
from planner.selectors.plans import PlanContent
from planner.web.supervisor.changes import changes
from planner.web.supervisor.edit_trail import Around, EditTrail
from tests.lib import one_cure


def _content(schedule: Schedule, **changed: object) -> PlanContent:
    plan = BayPlan(
        problem_sha256="0" * 64, status=PlanStatus.FEASIBLE, score=Score(0, 0), bound=0, schedule=schedule
    )
    return PlanContent(problem=one_cure.problem(**changed), plan=plan)


def test_the_same_times_on_another_horizon_are_no_change() -> None:
    # The published plan began a day before: its minute 1440 is this plan's minute 0.
    yesterday = one_cure.problem().origin - timedelta(days=1)
    published = _content(one_cure.schedule(shift=1440), origin=yesterday)
    before = promised_still(one_cure.problem(), published)
    assert changes(before, one_cure.schedule()) == ()


def test_a_later_job_says_how_much() -> None:
    (change,) = changes(one_cure.schedule(), one_cure.schedule(shift=60))
    assert (change.job, change.minutes_later) == ("WO-0001", 60)


def test_a_new_and_a_dropped_job_have_nothing_to_compare() -> None:
    nothing = Schedule(jobs=(), watch=())
    (new,) = changes(nothing, one_cure.schedule())
    (gone,) = changes(one_cure.schedule(), nothing)
    assert new.minutes_later is gone.minutes_later is None
    assert (new.ready_before, gone.ready_now) == (None, None)


def test_undo_and_redo_walk_the_drafts_and_a_new_edit_forgets_what_was_undone() -> None:
    session: dict[str, object] = {}
    trail = EditTrail(session, "halfmoon")
    trail.step(1, 2)
    trail.step(2, 3)
    assert trail.around(2) == Around(undo=1, redo=3)
    trail.step(2, 4)
    assert trail.around(2) == Around(undo=1, redo=4)
    assert trail.around(3) == Around(undo=None, redo=None)
