"""A maintenance planner: register a damaged tyre, find it, see what is promised."""

import re

from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from planner.models import WorkOrder
from tests.functional.conftest import Demo, Shown, SignIn


def test_a_damaged_tyre_comes_in(demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown) -> None:
    demo.published()
    page = sign_in(demo.users["priya"])
    page.goto(f"{live_server.url}/at/halfmoon/")
    shown("planner-today")
    page.get_by_role("link", name="Register damage").click()
    page.get_by_label("Serial").fill("KX-9001")
    page.get_by_label("Size").fill("26.5 r 25 ** L-3")
    page.get_by_label("sidewall").check()
    for label, millimetres in (("Length", "120"), ("Width", "80"), ("Depth", "30")):
        page.get_by_label(label).fill(millimetres)
    page.get_by_role("button", name="Put it in the queue").click()
    expect(page.get_by_text("Only a demounted, deflated tyre may be repaired")).to_be_visible()
    shown("planner-register-refused")
    page.get_by_label("The tyre is off its machine").check()
    page.get_by_role("button", name="Put it in the queue").click()
    expect(page.get_by_role("heading", name=re.compile("KX-9001"))).to_be_visible()
    shown("planner-order")
    assert WorkOrder.objects.get(tyre__serial="KX-9001").tyre.size == "26.5R25"
    page.get_by_role("link", name="Queue").first.click()
    page.get_by_label("Find").fill("kx-9001")
    page.get_by_role("button", name="Show").click()
    expect(page.locator("tbody tr")).to_have_count(1)
    shown("planner-queue")
    page.get_by_label("Find").fill("no such serial")
    page.get_by_role("button", name="Show").click()
    expect(page.get_by_role("heading", name="No tyre matches")).to_be_visible()
    page.get_by_role("link", name="Bay").click()
    shown("planner-bay")
