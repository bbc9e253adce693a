"""Main tasks by keys alone: the focus is seen at each step, never lost and never held."""

import re
from decimal import Decimal

from django.utils import timezone
from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from planner.models import CostPrice, HeaterSet, RosterPattern, StageRun, TapTakenBack, WorkOrder
from tests.functional.conftest import Demo, SignIn
from tests.functional.test_technician import cure_begin
from tests.lib.keyboard import Keyboard


def test_a_planner_registers_damage_and_puts_it_first(
    demo: Demo, live_server: LiveServer, sign_in: SignIn
) -> None:
    page = sign_in(demo.users["priya"])
    page.goto(f"{live_server.url}/at/halfmoon/")
    keys = Keyboard(page)
    keys.press(page.get_by_role("link", name="Register damage"))
    expect(page.get_by_label("Serial")).to_be_focused()
    page.keyboard.type("KX-9001")
    keys.write(page.get_by_label("Size"), "26.5R25")
    # The first of the zones takes the focus, the arrows choose.
    keys.to(page.get_by_role("radio").first)
    page.keyboard.press("ArrowDown")
    for label, millimetres in (("Length", "120"), ("Width", "80"), ("Depth", "30")):
        keys.write(page.get_by_label(label), millimetres)
    keys.press(page.get_by_label("The tyre is off its machine"), "Space")
    keys.press(page.get_by_role("button", name="Put it in the queue"))
    expect(page.get_by_role("heading", name=re.compile("KX-9001"))).to_be_visible()
    keys.press(page.locator("summary").filter(has_text="Change when it is needed"))
    keys.write(page.get_by_label("Weight, 1 to 100"), "77")
    keys.write(page.get_by_label("Why", exact=True), "two machines stand")
    page.keyboard.press("Enter")
    expect(page.get_by_text("is needed by another time now")).to_be_visible()
    assert WorkOrder.objects.get(tyre__serial="KX-9001").priority == 77
    keys.press(page.get_by_role("link", name="Queue", exact=True))
    keys.write(page.get_by_label("Find", exact=True), "kx-9001")
    page.keyboard.press("Enter")
    expect(page.locator("tbody tr")).to_have_count(1)
    keys.press(page.get_by_role("link", name=re.compile("WO-")))
    expect(page.get_by_role("heading", name=re.compile("KX-9001"))).to_be_visible()


def test_a_technician_begins_reads_ends_and_hands_over(
    demo: Demo, live_server: LiveServer, sign_in: SignIn
) -> None:
    plan, since = demo.published(), timezone.now()
    tove = demo.technician_with_work(plan)
    cure_begin(demo, plan)
    page = sign_in(tove)
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    keys = Keyboard(page)
    keys.press(page.get_by_role("button", name="attend it"))
    expect(page.get_by_text("attends it since")).to_be_visible()
    keys.goes_on()
    keys.choose(page.get_by_label("Hand over to"), demo.attendant(but=tove).name)
    keys.press(page.get_by_role("button", name="Ask"))
    expect(page.get_by_text("is asked to take over")).to_be_visible()
    start = page.get_by_role("button", name="Start", exact=True)
    keys.press(start)
    expect(page.get_by_role("button", name="Done", exact=True).first).to_be_focused()
    # The list comes anew every five seconds; who stands in it stays there.
    page.wait_for_timeout(5500)
    expect(page.get_by_role("button", name="Done", exact=True).first).to_be_focused()
    keys.press(page.get_by_role("button", name="Not begun after all").first)
    expect(page.get_by_role("button", name="Yes")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_text("has not begun.")).to_be_visible()
    expect(page.locator(".tap-waits")).to_have_count(0)
    assert TapTakenBack.objects.count() == 1
    keys.goes_on()
    keys.press(start)
    done = page.get_by_role("button", name="Done", exact=True).first
    expect(done).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Yes")).to_be_focused()
    page.keyboard.press("Escape")
    expect(done).to_be_focused()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="goes on after all").first).to_be_visible()
    keys.goes_on()
    expect(page.locator(".tap-waits")).to_have_count(0)
    assert StageRun.objects.filter(state="done", started_at__gte=since).exists()


def test_a_supervisor_publishes_and_comes_to_the_sheets(
    demo: Demo, live_server: LiveServer, sign_in: SignIn
) -> None:
    draft = demo.plan()
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/plan/{draft.pk}/")
    keys = Keyboard(page)
    opener = page.get_by_role("button", name="Publish …")
    keys.press(opener)
    page.keyboard.press("Escape")
    expect(opener).to_be_focused()
    page.keyboard.press("Enter")
    keys.write(page.get_by_label("Remark for the record"), "night shift agreed")
    keys.press(page.get_by_role("button", name="Publish", exact=True))
    expect(page.get_by_role("heading", name="Plan 1")).to_be_visible()
    keys.press(page.get_by_role("link", name="Shift sheets").last)
    expect(page.get_by_role("heading", name=re.compile("Shift sheets"))).to_be_visible()
    # The arrows go through a list without leaving the page at each of them.
    who = keys.to(page.get_by_label("Technician"))
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(who).to_be_focused()
    keys.press(page.get_by_role("button", name="Show"))
    keys.to(page.get_by_role("link", name="PDF to print"))


def test_an_administrator_adds_a_set_and_a_roster(
    demo: Demo, live_server: LiveServer, sign_in: SignIn
) -> None:
    page = sign_in(demo.users["adele"])
    page.goto(f"{live_server.url}/at/halfmoon/")
    keys = Keyboard(page)
    keys.press(page.get_by_role("link", name="Site", exact=True))
    keys.press(page.get_by_role("link", name="Heater sets", exact=True))
    keys.press(page.get_by_role("link", name="Add", exact=True))
    told = {"Code": "H9", "Name": "Small 9", "Outlets": "2", "Power": "6", "Turnaround": "15"}
    for label, text in told.items():
        keys.write(page.get_by_label(label), text)
    keys.press(page.get_by_role("button", name="Save"))
    expect(page.get_by_text("Small 9 is on file.")).to_be_visible()
    assert HeaterSet.objects.filter(code="H9", channels=2).exists()
    keys.press(page.get_by_role("link", name="Site", exact=True).last)
    keys.press(page.get_by_role("link", name="Roster patterns", exact=True))
    keys.press(page.get_by_role("link", name="Add", exact=True))
    keys.choose(page.get_by_label("Technician"), "Kirra")
    keys.write(page.get_by_label("Repeats by"), "FREQ=WEEKLY;BYDAY=SA")
    for label in ("Begins", "Ends"):
        keys.to(page.get_by_label(label))
        page.keyboard.type("0600AM" if label == "Begins" else "0200PM")
    keys.to(page.get_by_label("First day"))
    page.keyboard.type("01052030")
    keys.press(page.get_by_role("button", name="Save"))
    expect(page.get_by_text("is on file.")).to_be_visible()
    assert RosterPattern.objects.filter(
        recurrence="FREQ=WEEKLY;BYDAY=SA", technician__name__startswith="Kirra"
    )


def test_an_accountant_opens_a_figure_and_enters_a_price(
    demo: Demo, live_server: LiveServer, sign_in: SignIn
) -> None:
    page = sign_in(demo.users["amos"])
    page.goto(f"{live_server.url}/at/halfmoon/")
    keys = Keyboard(page)
    keys.press(page.get_by_role("link", name="Accounts", exact=True))
    keys.press(page.get_by_role("link", name="Repair or new", exact=True))
    keys.press(page.locator("#content").get_by_role("link", name=re.compile("^WO-")))
    expect(page.get_by_role("heading", name="Advice")).to_be_visible()
    figure = page.locator("details").filter(has_text="repair now: cost per remaining hour")
    keys.press(figure.locator("summary"))
    expect(figure.get_by_role("table").first).to_be_visible()
    keys.press(page.get_by_role("link", name="Prices and stock", exact=True))
    keys.press(page.locator("summary").filter(has_text="Enter one row by hand"))
    keys.choose(page.get_by_label("Kind"), "labour")
    told = {"Item": "fitter", "Unit": "h", "Amount": "45.5", "Currency": "AUD"}
    for label, text in told.items():
        keys.write(page.get_by_label(label, exact=True), text)
    keys.to(page.get_by_label("Effective from", exact=True))
    page.keyboard.type("11012030")
    for label, text in {"Source": "agreement", "Reason": "pay round"}.items():
        keys.write(page.get_by_label(label, exact=True), text)
    keys.press(page.get_by_role("button", name="Enter it"))
    expect(page.get_by_text("It is in the books.")).to_be_visible()
    assert CostPrice.objects.filter(item="fitter", amount=Decimal("45.5")).exists()
