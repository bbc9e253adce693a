"""A supervisor before the shift: build, look, move, lock, publish, print."""

from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from planner.models import Plan
from planner.selectors.plans import plan_content_get
from planner.services.plans import plan_publish
from tests.functional.conftest import Demo, Shown, SignIn, worker


def test_from_nothing_to_a_published_plan(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/")
    expect(page.get_by_text("No plan is published")).to_be_visible()
    shown("supervisor-today-empty")
    page.get_by_role("link", name="Plan the days").click()
    page.get_by_label("Search for").select_option("60")
    page.get_by_role("button", name="Build a plan").click()
    expect(page.get_by_role("heading", name="Waiting for the planner")).to_be_visible()
    with worker():
        expect(page.get_by_role("heading", name="Building the plan")).to_be_visible()
        shown("supervisor-building")
        page.get_by_role("button", name="Stop here and keep the best so far").click()
    expect(page.get_by_role("heading", name="Draft")).to_be_visible()
    shown("supervisor-draft")
    page.get_by_role("button", name="Publish …").click()
    expect(page.get_by_role("heading", name="Publish this plan?")).to_be_visible()
    shown("supervisor-publish")
    page.get_by_role("button", name="Publish", exact=True).click()
    expect(page.get_by_role("heading", name="Plan 1")).to_be_visible()
    page.get_by_role("link", name="Shift sheets").first.click()
    expect(page.get_by_role("heading", name="Before you start").first).to_be_visible()
    shown("supervisor-sheets")
    page.goto(f"{live_server.url}/at/halfmoon/plan/versions/")
    shown("supervisor-versions")


def test_changing_the_draft_by_keyboard_alone(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    draft = demo.plan()
    plan_publish(user=demo.users["silas"], plan=draft, expected_number=None)
    draft = demo.plan()
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/plan/{draft.pk}/")
    page.locator("#board").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.locator("#panel .stage-list")).to_be_visible()
    shown("supervisor-panel")
    job = page.locator(".bar.chosen").get_attribute("data-job")
    page.get_by_role("button", name="Lock it here").press("Enter")
    expect(page.locator("#plan .notice")).to_contain_text(f"{job} is locked where it stands")
    newest = Plan.objects.order_by("-pk").first()
    assert newest
    assert [each.id for each in plan_content_get(plan=newest).problem.locked] == [job]
    page.get_by_role("link", name="Undo").press("Enter")
    expect(page.get_by_role("link", name="Redo")).to_be_visible()
    page.goto(f"{live_server.url}/at/halfmoon/plan/{draft.pk}/?lanes=technicians&zoom=shift&compare=yes")
    expect(page.get_by_role("heading", name="What moves against plan 1")).to_be_visible()
    shown("supervisor-compare")
    # Paper holds the whole plan: a table of every tyre, and the timeline where a sheet is wide enough for it.
    page.emulate_media(media="print")
    expect(page.locator("#plan .paper-only tbody tr")).to_have_count(
        len(plan_content_get(plan=draft).plan.schedule.jobs)
    )
    expect(page.locator("#plan .paper-only table")).to_be_visible()
    expect(page.locator("#board")).to_be_hidden()
    page.goto(f"{live_server.url}/at/halfmoon/plan/{draft.pk}/?zoom=week")
    expect(page.locator("#board")).to_be_visible()
    names, lanes = (page.locator(part).bounding_box() for part in (".board-labels", ".board-lanes"))
    assert names
    assert lanes
    # An A4 sheet on its side has 273 mm, 1032 px, within its margins.
    assert names["width"] + lanes["width"] <= 1032
    page.emulate_media(media="screen")


def test_a_move_into_the_night_is_refused_with_the_rule_and_changes_nothing(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    draft = demo.plan()
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/plan/{draft.pk}/")
    bar = page.locator("#board .bar").first
    bar.focus()
    bar.press("Enter")
    page.get_by_label("Starts").fill(f"{draft.horizon_start.astimezone(demo.zone):%Y-%m-%d}T01:00")
    page.get_by_role("button", name="Move it").click()
    expect(page.locator("#plan .notice")).to_contain_text("That would break a rule")
    expect(page.locator("#plan .notice li").first).to_be_visible()
    shown("supervisor-refused")
    assert Plan.objects.count() == 1
