"""A technician on the floor: begin and end a stage, also while the network is down, and close the bay."""

from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from planner.models import AuditEvent, StageRun
from tests.functional.conftest import Demo, Shown, SignIn


def test_a_shift_with_a_minute_without_network(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    page = sign_in(demo.technician_with_work(demo.published()))
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    shown("technician-floor")
    # The tap's first way out is cut by hand: a browser that is offline would report it as an error.
    page.evaluate("() => { window.wholeFetch = window.fetch; }")
    page.evaluate("() => { window.fetch = () => Promise.reject(new TypeError('cut')); }")
    page.get_by_role("button", name="Start").first.click()
    expect(page.get_by_text("1 tap waits for the network")).to_be_visible()
    assert not StageRun.objects.filter(state="running").exists()
    page.evaluate("() => { window.fetch = window.wholeFetch; }")
    expect(page.get_by_text("1 tap waits for the network")).to_be_hidden(timeout=15000)
    expect(page.get_by_role("button", name="Done")).to_be_visible()
    assert StageRun.objects.filter(state="running").count() == 1
    shown("technician-running")
    page.get_by_role("button", name="Done").click()
    expect(page.get_by_role("button", name="Done")).to_be_hidden()
    assert not StageRun.objects.filter(state="running").exists()


def test_the_same_tap_sent_twice_is_recorded_once(
    demo: Demo, live_server: LiveServer, sign_in: SignIn
) -> None:
    page = sign_in(demo.technician_with_work(demo.published()))
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    button = page.get_by_role("button", name="Start").first
    body = {
        "action": "begin",
        "job": button.get_attribute("data-job"),
        "stage": button.get_attribute("data-stage"),
    }
    address = page.locator("#floor").get_attribute("data-tap")
    token = page.evaluate("JSON.parse(document.body.getAttribute('hx-headers'))['X-CSRFToken']")
    before = StageRun.objects.count()
    for _ in range(2):
        sent = page.request.post(
            f"{live_server.url}{address}",
            form=body,
            headers={"X-CSRFToken": token, "Referer": live_server.url},
        )
        assert sent.status == 200
    assert StageRun.objects.count() == before + 1


def test_closing_the_bay_needs_every_step(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    page = sign_in(demo.users["tove"])
    page.goto(f"{live_server.url}/at/halfmoon/floor/closing/")
    shown("technician-closing")
    for box in page.get_by_role("checkbox").all():
        box.check()
    page.get_by_role("button", name="The bay is closed").click()
    expect(page.get_by_text("The bay is closed. Good night.")).to_be_visible()
    assert AuditEvent.objects.filter(action="bay_close").count() == 1
