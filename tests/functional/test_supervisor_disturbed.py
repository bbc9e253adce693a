"""A supervisor in the shift: what runs over, a part that failed, somebody away, what would help."""

import re
from collections.abc import Callable
from datetime import datetime, time, timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from planner.domain.plan import PlannedJob
from planner.models import HeaterSet, LeverQuestion, Plan, Position, StageRun, Technician, WorkOrder
from planner.selectors.floor_work import damage_of_job_get
from planner.selectors.plans import plan_content_get
from planner.services.lever_trials import lever_baseline_run, lever_trial_run
from tests.functional.conftest import Demo, Shown, SignIn, beside, worker

Clock = Callable[[datetime], None]


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    """Set the server's clock, which then runs on."""
    real = timezone.now

    def _set(at: datetime) -> None:
        ahead = at - real()
        monkeypatch.setattr("django.utils.timezone.now", lambda: real() + ahead)

    return _set


def first_begun(demo: Demo, plan: Plan) -> tuple[PlannedJob, datetime]:
    """The job that the plan begins first, on record as begun then; with the planned end of its stage."""
    content = plan_content_get(plan=plan)
    job = min(content.plan.schedule.jobs, key=lambda each: each.stages[0].start)
    stage = job.stages[0]
    damage = damage_of_job_get(user=demo.users["silas"], site=demo.site, job=job.id)
    assert damage.work_order
    run = StageRun.objects.create(
        site=demo.site, work_order=damage.work_order, damage=damage, sequence=1, name=stage.name, plan=plan,
        started_at=content.problem.origin + timedelta(minutes=stage.start),
        position=Position.objects.filter(site=demo.site, code=stage.position or "").first(),
    )  # fmt: skip
    run.technicians.set(Technician.objects.filter(site=demo.site, code__in=stage.technicians))
    type(damage.work_order).objects.filter(pk=damage.work_order.pk).update(state="in_hand")
    return job, content.problem.origin + timedelta(minutes=stage.end)


def test_what_runs_over_is_planned_again_from_the_floor(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown, clock: Clock
) -> None:
    # Published just after midnight, so that whatever the plan begins first lies ahead.
    clock(datetime.combine(timezone.now().astimezone(demo.zone), time(0, 5), tzinfo=demo.zone))
    plan = demo.published()
    job, due_at = first_begun(demo, plan)
    clock(due_at + timedelta(minutes=45))
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    expect(page.get_by_role("heading", name="Over its time")).to_be_visible()
    expect(page.get_by_text("45 min over").first).to_be_visible()
    shown("supervisor-over")
    page.get_by_role("button", name="Show what would move").click()
    expect(page.get_by_role("heading", name="Waiting for the planner")).to_be_visible()
    with worker():
        expect(page.get_by_role("heading", name="Draft")).to_be_visible(timeout=60000)
    expect(page.get_by_role("heading", name=f"What moves against plan {plan.number}")).to_be_visible()
    shown("supervisor-again")
    draft = Plan.objects.order_by("-pk").first()
    assert draft
    kept = next(each for each in plan_content_get(plan=draft).plan.schedule.jobs if each.id == job.id)
    # What has begun stays where it was begun.
    assert kept.stages[0].name == job.stages[0].name
    page.get_by_role("button", name="Publish …").click()
    page.get_by_role("button", name="Publish", exact=True).click()
    expect(page.get_by_role("heading", name=f"Plan {(plan.number or 0) + 1}")).to_be_visible()


def test_an_urgent_tyre_arrives_and_is_planned_in(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown, clock: Clock
) -> None:
    midnight = datetime.combine(timezone.now().astimezone(demo.zone), time(0, 5), tzinfo=demo.zone)
    clock(midnight)
    plan = demo.published()
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/queue/register/")
    page.get_by_label("Serial").fill("UR-1")
    page.get_by_label("Size").fill("26.5R25")
    page.get_by_label("sidewall").check()
    for label, millimetres in (("Length", "110"), ("Width", "80"), ("Depth", "22")):
        page.get_by_label(label).fill(millimetres)
    page.get_by_label("Needed by").fill(f"{midnight + timedelta(days=3):%Y-%m-%dT18:00}")
    page.get_by_label("The tyre is off its machine").check()
    page.get_by_role("button", name="Put it in the queue").click()
    page.get_by_text("Change when it is needed").click()
    page.get_by_label("Weight, 1 to 100").fill("100")
    page.get_by_label("Why", exact=True).fill("its loader stands")
    page.get_by_role("button", name="Change", exact=True).click()
    expect(page.get_by_text("is needed by another time now")).to_be_visible()
    order = WorkOrder.objects.get(tyre__serial="UR-1")
    page.get_by_role("link", name="Today", exact=True).click()
    expect(page.get_by_text("A tyre is to be repaired and no plan knows it yet")).to_be_visible()
    shown("supervisor-urgent")
    page.get_by_role("button", name="Show what would move").click()
    with worker():
        expect(page.get_by_role("heading", name="Draft")).to_be_visible(timeout=60000)
    # What moved and why is told, the urgent tyre among it.
    row = page.get_by_role("row").filter(has=page.get_by_role("link", name=re.compile(order.code)))
    expect(row.filter(has_text="newly planned").first).to_be_visible()
    expect(page.get_by_role("columnheader", name="Why").first).to_be_visible()
    shown("supervisor-urgent-again")
    page.get_by_role("button", name="Publish …").click()
    page.get_by_role("button", name="Publish", exact=True).click()
    expect(page.get_by_role("heading", name=f"Plan {(plan.number or 0) + 1}")).to_be_visible()
    page.goto(f"{live_server.url}/at/halfmoon/orders/{order.number}/")
    expect(page.get_by_role("heading", name="In the published plan")).to_be_visible()
    expect(page.get_by_role("rowheader", name="Cure", exact=True)).to_be_visible()
    page.goto(f"{live_server.url}/at/halfmoon/")
    expect(page.get_by_text("no plan knows it yet")).to_have_count(0)


def test_a_part_fails_and_somebody_is_away(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    plan = demo.published()
    schedule = plan_content_get(plan=plan).plan.schedule
    needed = next(stage.heater_set for job in schedule.jobs for stage in job.stages if stage.heater_set)
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/bay/")
    shown("supervisor-bay")
    name = HeaterSet.objects.get(site=demo.site, code=needed).name
    row = page.get_by_role("row").filter(has_text=name)
    row.get_by_role("link", name="outside pad").click()
    page.get_by_label("Why").fill("cold corner")
    shown("supervisor-part")
    page.get_by_role("button", name="Take it out").click()
    expect(page.get_by_text("its outside pad is out now")).to_be_visible()
    page.get_by_role("link", name="Away today").first.click()
    expect(page.get_by_label("Technician")).not_to_have_value("")
    page.get_by_label("Reason").fill("sick")
    shown("supervisor-away")
    page.get_by_role("button", name="Save").first.click()
    anyway, saved = page.get_by_role("button", name="Save all the same"), page.get_by_text("is on file.")
    expect(anyway.or_(saved)).to_be_visible()
    if anyway.is_visible():
        anyway.click()
    expect(page.get_by_role("heading", name="Roster exceptions")).to_be_visible()
    page.get_by_role("link", name="Today", exact=True).click()
    expect(page.get_by_text("no longer holds: the bay changed")).to_be_visible()
    shown("supervisor-broken")
    page.get_by_label("The published times").select_option(label="move as few as possible")
    page.get_by_role("button", name="Show what would move").click()
    expect(page.get_by_role("heading", name="Waiting for the planner")).to_be_visible()
    with worker():
        expect(page.get_by_role("heading", name="Draft")).to_be_visible(timeout=60000)
    draft = Plan.objects.order_by("-pk").first()
    assert draft
    again = plan_content_get(plan=draft).plan.schedule
    assert needed not in {stage.heater_set for job in again.jobs for stage in job.stages}
    shown("supervisor-again-without")


def test_what_would_help_is_tried_beside_the_page(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    draft = demo.plan()
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/plan/{draft.pk}/")
    page.get_by_role("button", name="Try what would help").click()
    expect(page.get_by_text("changes tried. All of them take about")).to_be_visible()
    with beside(_try_two):
        expect(page.get_by_text("The bay as it is")).to_be_visible(timeout=60000)
    expect(page.get_by_text(re.compile(r"^2 of \d+ changes tried"))).to_be_visible()
    shown("supervisor-help")
    page.get_by_role("button", name="Try no more").click()
    expect(page.get_by_role("button", name="Try again")).to_be_visible()


def _try_two() -> None:
    """What a worker does, for two of the levers and a second each."""
    LeverQuestion.objects.update(seconds=1)
    question = LeverQuestion.objects.get()
    lever_baseline_run(question_id=question.pk)
    for row in question.trials.order_by("pk")[:2]:
        lever_trial_run(trial_id=row.pk)
