"""Two supervisors on one plan: each sees what the other did, and nothing is overwritten unseen."""

import re

from django.test import Client
from playwright.sync_api import Browser, Page, expect
from pytest_django.live_server_helper import LiveServer

from planner.models import Plan, SiteMembership, User
from planner.selectors.plans import plan_content_get
from tests.functional.conftest import Demo, Shown, SignIn


def _beside(browser: Browser, server: str, user: User) -> Page:
    """The other one's browser, signed in."""
    client = Client()
    client.force_login(user)
    context = browser.new_context()
    context.add_cookies([{"name": "sessionid", "value": client.cookies["sessionid"].value, "url": server}])
    return context.new_page()


def test_who_publishes_second_is_told_who_was_first_and_sees_what_differs(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown, browser: Browser
) -> None:
    joel = demo.users["joel"]
    SiteMembership.objects.create(site=demo.site, user=joel, role="supervisor")
    draft = demo.plan()
    address = f"{live_server.url}/at/halfmoon/plan/{draft.pk}/"
    page, other = sign_in(demo.users["silas"]), _beside(browser, live_server.url, joel)
    page.goto(address)
    other.goto(address)
    # One locks a tyre, which is a draft of its own; the other publishes what both had before them.
    page.locator("#board").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    job = page.locator(".bar.chosen").get_attribute("data-job")
    page.get_by_role("button", name="Lock it here").click()
    expect(page.locator("#plan .notice")).to_contain_text("is locked where it stands")
    other.get_by_role("button", name="Publish …").click()
    other.get_by_role("button", name="Publish", exact=True).click()
    expect(other.get_by_role("heading", name="Plan 1")).to_be_visible()
    # The first one's page still says that there is no plan: publishing from it is refused by name.
    page.get_by_role("button", name="Publish …").click()
    page.get_by_role("button", name="Publish", exact=True).click()
    told = f"{joel.get_full_name()} published plan 1 in the meantime"
    expect(page.get_by_text(told)).to_be_visible()
    expect(page.get_by_role("heading", name="What moves against plan 1")).to_be_visible()
    assert Plan.objects.filter(state="published").count() == 1
    shown("supervisor-overtaken")
    # Having seen it, they publish; the other's page then leads to the plan that holds.
    page.get_by_role("button", name="Publish …").click()
    page.get_by_role("button", name="Publish", exact=True).click()
    expect(page.get_by_role("heading", name="Plan 2")).to_be_visible()
    # What was changed by hand is what is published.
    content = plan_content_get(plan=Plan.objects.get(state="published"))
    assert [each.id for each in content.problem.locked] == [job]
    other.goto(f"{live_server.url}/at/halfmoon/")
    expect(
        other.get_by_text(re.compile(f"Plan 2 holds, published .* by {demo.users['silas'].get_full_name()}"))
    ).to_be_visible()
    other.context.close()
