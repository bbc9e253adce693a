"""A maintenance planner: register damage, follow a promise, see which size runs out."""

import re
from pathlib import Path

from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from planner.models import InjuryPhoto, QueueView, WorkOrder
from planner.services.demo_site.tables import FOLDER
from planner.services.plans import plan_publish
from planner.services.promise_notices import promise_notices_tell
from tests.functional.conftest import Demo, Shown, SignIn


def test_a_damaged_tyre_comes_in(demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown) -> None:
    demo.published()
    page = sign_in(demo.users["priya"])
    page.goto(f"{live_server.url}/at/halfmoon/")
    shown("planner-today")
    page.get_by_role("link", name="Register damage").click()
    _fill_in(page)
    page.get_by_role("button", name="Put it in the queue").click()
    expect(page.get_by_text("Only a demounted, deflated tyre may be repaired")).to_be_visible()
    shown("planner-register-refused")
    page.get_by_label("The tyre is off its machine").check()
    page.get_by_label("Photo").set_input_files(FOLDER / "injury_photo.jpg")
    page.get_by_role("button", name="Put it in the queue").click()
    expect(page.get_by_role("heading", name=re.compile("KX-9001"))).to_be_visible()
    expect(page.get_by_role("button", name="Follow it no longer")).to_be_visible()
    shown("planner-order")
    order = WorkOrder.objects.get(tyre__serial="KX-9001")
    assert (order.tyre.size, InjuryPhoto.objects.filter(damage__work_order=order).count()) == ("26.5R25", 1)
    page.get_by_role("link", name="Queue").first.click()
    page.get_by_label("Find").fill("kx-9001")
    page.get_by_role("button", name="Show").click()
    expect(page.locator("tbody tr")).to_have_count(1)
    page.get_by_text("Keep this view").click()
    page.get_by_label("Its name").fill("Mine")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("link", name="Mine", exact=True)).to_have_attribute("aria-current", "true")
    assert QueueView.objects.get().wanted["search"] == "kx-9001"
    shown("planner-queue")
    page.get_by_label("Find").fill("no such serial")
    page.get_by_role("button", name="Show").click()
    expect(page.get_by_role("heading", name="No tyre matches")).to_be_visible()
    page.get_by_role("link", name="Bay").click()
    expect(page.get_by_role("heading", name="The bay", level=1)).to_be_visible()
    shown("planner-bay")


def _fill_in(page: Page) -> None:
    page.get_by_label("Serial").fill("KX-9001")
    page.get_by_label("Size").fill("26.5 r 25 ** L-3")
    page.get_by_label("sidewall").check()
    for label, millimetres in (("Length", "120"), ("Width", "80"), ("Depth", "30")):
        page.get_by_label(label).fill(millimetres)
    # The machines say when they want one more of that size; the planner takes the day.
    wanted = page.locator("#need button")
    expect(wanted).to_be_visible()
    wanted.click()
    expect(page.get_by_label("Needed by")).to_have_value(wanted.get_attribute("data-value") or "")


def test_many_tyres_come_in_from_a_file(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown, tmp_path: Path
) -> None:
    page = sign_in(demo.users["priya"])
    page.goto(f"{live_server.url}/at/halfmoon/queue/register/")
    page.get_by_role("link", name="Many, from a file").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="CSV").click()
    blank = download.value.path().read_text(encoding="utf-8-sig").strip()
    good = "KX-9101,27.00R49,sidewall,120,80,30,,,2030-12-05 06:00,yes,rock cut"
    file = tmp_path / "night shift.csv"
    file.write_text(f"{blank}\n{good}\nKX-9102,29.5R25,sidwall,9 cm,80,30,,,2030-12-06,yes,\n")
    page.locator("input[type=file]").set_input_files(file)
    page.get_by_role("button", name="See what it would do").click()
    expect(page.get_by_role("heading", name="What night shift.csv would do")).to_be_visible()
    expect(page.get_by_text("2 faults. Nothing is registered")).to_be_visible()
    expect(page.get_by_text("zone: 'sidwall' is no zone; there are crown, shoulder")).to_be_visible()
    shown("planner-file-faults")
    assert not WorkOrder.objects.filter(tyre__serial="KX-9101").exists()
    file.write_text(f"{blank}\n{good}\nKX-9102,29.5R25,sidewall,90,80,30,,,2030-12-06,yes,\n")
    page.locator("input[type=file]").set_input_files(file)
    page.get_by_role("button", name="See what it would do").click()
    expect(page.get_by_text("2 tyres would stand in the queue.")).to_be_visible()
    assert not WorkOrder.objects.filter(tyre__serial="KX-9101").exists()
    shown("planner-file")
    page.get_by_role("button", name="Register all of them").click()
    expect(page.get_by_text("2 tyres are in the queue.")).to_be_visible()
    assert WorkOrder.objects.filter(tyre__serial__in=["KX-9101", "KX-9102"]).count() == 2


def test_a_promise_moves_and_a_size_runs_out(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    first = demo.published()
    page = sign_in(demo.users["priya"])
    page.goto(f"{live_server.url}/at/halfmoon/")
    # One that the plan promises, by its serial from any page.
    order = next(each for each in WorkOrder.objects.all() if f'"{each.code}"' in first.plan_json)
    page.get_by_placeholder("Serial or order").fill(order.tyre.serial)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name=re.compile(order.code))).to_be_visible()
    expect(page.get_by_text("What would bring it forward")).to_be_visible()
    page.get_by_role("button", name="Follow it").click()
    expect(page.get_by_role("button", name="Follow it no longer")).to_be_visible()
    shown("planner-promise")
    WorkOrder.objects.filter(pk=order.pk).update(released_at=first.horizon_end)
    second = plan_publish(user=demo.users["silas"], plan=demo.plan(), expected_number=1, why="no crane")
    promise_notices_tell(plan_id=second.pk)
    page.reload()
    page.get_by_role("link", name=re.compile("Notices 1")).click()
    expect(page.get_by_text(re.compile("no longer promised"))).to_be_visible()
    expect(page.get_by_text("Their remark: no crane.")).to_be_visible()
    shown("planner-notices")
    page.get_by_role("link", name="Calendar addresses").click()
    page.get_by_role("button", name=re.compile("Make an address.*When each tyre")).click()
    address = page.get_by_label("Address").input_value()
    assert "BEGIN:VEVENT" in page.request.get(address).text()
    shown("planner-calendar")
    page.get_by_role("link", name="Fleet").click()
    expect(page.get_by_role("heading", name="Fleet", level=1)).to_be_visible()
    shown("planner-fleet")
    page.get_by_role("link", name="Haul truck 2").first.click()
    expect(page.get_by_role("heading", name="Haul truck 2", level=1)).to_be_visible()
    shown("planner-machine")
    page.goto(f"{live_server.url}/at/halfmoon/fleet/spares/")
    shown("planner-spares")
    page.get_by_role("link", name="33.00R51").click()
    expect(page.get_by_role("heading", name="Odds of having run out")).to_be_visible()
    shown("planner-size")
    page.get_by_role("button", name=re.compile("Give WO-")).first.click()
    expect(page.get_by_text("is needed by another time now")).to_be_visible()
