"""An administrator closes a heater set that the published plan needs, is told first, and goes on."""

from datetime import timedelta

from django.utils import timezone
from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from planner.models import Closure, HeaterSet
from planner.selectors.plans import plan_content_get
from tests.functional.conftest import Demo, Shown, SignIn


def test_a_closed_set_is_told_with_its_tyres(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    schedule = plan_content_get(plan=demo.published()).plan.schedule
    last = max(schedule.jobs, key=lambda job: job.end)
    needed = next(stage.heater_set for stage in last.stages if stage.heater_set)
    page = sign_in(demo.users["adele"])
    page.goto(f"{live_server.url}/at/halfmoon/")
    page.get_by_role("link", name="Site", exact=True).click()
    expect(page.get_by_role("heading", name="Halfmoon Tor Mine", level=1)).to_be_visible()
    shown("administrator-site")
    page.get_by_role("link", name="Closures").click()
    expect(page.get_by_role("heading", name="Closures", level=1)).to_be_visible()
    shown("administrator-closures")
    page.get_by_role("link", name="Add").click()
    heater_set = HeaterSet.objects.get(site=demo.site, code=needed)
    page.get_by_label("Heater set").select_option(label=heater_set.name)
    begins = timezone.now().astimezone(demo.zone)
    page.get_by_label("Begins").fill(f"{begins:%Y-%m-%dT%H:%M}")
    page.get_by_label("Ends").fill(f"{begins + timedelta(days=8):%Y-%m-%dT%H:%M}")
    page.get_by_label("Reason").fill("controller burnt")
    page.get_by_role("button", name="Save").press("Enter")
    expect(page.get_by_role("heading", name="Not saved: that would break plan 1")).to_be_visible()
    expect(page.get_by_role("alert")).to_contain_text(last.id)
    shown("administrator-broken")
    before = Closure.objects.count()
    page.get_by_role("button", name="Save all the same").click()
    expect(page.get_by_text("the published plan no longer holds")).to_be_visible()
    assert Closure.objects.count() == before + 1
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/")
    expect(page.get_by_text("Plan 1 no longer holds: ").first).to_be_visible()
    expect(page.get_by_text("! plan 1 no longer holds: ")).to_be_visible()
    shown("administrator-told")
