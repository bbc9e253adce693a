"""A technician on the floor: begin and end a stage, also while the network is down, and close the bay."""

from datetime import timedelta
from pathlib import Path

from django.utils import timezone
from playwright.sync_api import Page, Route, expect
from pytest_django.live_server_helper import LiveServer

from planner.models import (
    AuditEvent,
    CureReading,
    HeaterSet,
    InjuryPhoto,
    Plan,
    StageRun,
    TapTakenBack,
    WorkOrder,
)
from planner.selectors.floor_work import damage_of_job_get
from planner.selectors.plans import plan_content_get
from tests.functional.conftest import Demo, Shown, SignIn

PHOTO = Path(__file__).resolve().parents[2] / "fixtures" / "demo_site" / "injury_photo.jpg"
LIST_CAME = (
    "listCame = new Promise((came) => document.addEventListener('htmx:afterRequest', came, {once: true})); 0"
)


def test_a_shift_with_a_minute_without_network(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    page = sign_in(demo.technician_with_work(demo.published()))
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    shown("technician-floor")
    page.context.set_offline(True)
    page.get_by_role("button", name="Start").first.click()
    expect(page.get_by_text("1 tap waits for the network")).to_be_visible()
    expect(page.get_by_text("no alarm comes through")).to_be_visible()
    shown("technician-offline")
    assert not StageRun.objects.filter(state="running").exists()
    page.context.set_offline(False)
    expect(page.get_by_text("1 tap waits for the network")).to_be_hidden()
    expect(page.get_by_role("button", name="Done")).to_be_visible()
    assert StageRun.objects.filter(state="running").count() == 1
    shown("technician-running")
    _touch_sizes(page)
    expect(page.get_by_text("no alarm comes through")).to_be_hidden()
    page.get_by_role("button", name="Done").click()
    expect(page.get_by_text("Is it really done?")).to_be_visible()
    page.get_by_role("button", name="Yes").click()
    expect(page.get_by_role("button", name="Done")).to_be_hidden()
    expect(page.locator(".tap-waits")).to_have_count(0)
    assert not StageRun.objects.filter(state="running").exists()


def test_a_slip_is_taken_back_though_the_network_is_down(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    page = sign_in(demo.technician_with_work(demo.published()))
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    page.context.set_offline(True)
    page.get_by_role("button", name="Start").first.click()
    # Taken back on the tablet, before the server has heard of the start.
    _take_back(page, "Not begun after all")
    expect(page.get_by_text("Taps wait for the network and will be sent by themselves: 2")).to_be_visible()
    page.context.set_offline(False)
    expect(page.get_by_text("has not begun.")).to_be_visible()
    assert TapTakenBack.objects.get().tap == "start"
    assert not StageRun.objects.filter(state="running").exists()
    page.get_by_role("button", name="Start").first.click()
    page.get_by_role("button", name="Done").click()
    page.get_by_role("button", name="Yes").click()
    # The card shows the next stage now, and that the one before may not be done after all.
    _take_back(page, "goes on after all")
    expect(page.get_by_text("goes on.", exact=False)).to_be_visible()
    expect(page.get_by_role("button", name="Done")).to_be_visible()
    shown("technician-taken-back")
    _touch_sizes(page)
    assert StageRun.objects.filter(state="running").count() == 1
    assert not StageRun.objects.filter(state="running", ended_at__isnull=False).exists()


def _take_back(page: Page, name: str) -> None:
    page.locator("#floor-body").get_by_role("button", name=name).first.click()
    expect(page.get_by_text("stays on record")).to_be_visible()
    page.get_by_role("button", name="Yes").click()


def _touch_sizes(page: Page) -> None:
    """Everything that a glove taps on the floor is at least 48 px high and wide."""
    for target in page.locator("#floor :is(button, a.button, summary, select), .nav a").all():
        box = target.bounding_box()
        if box is not None:
            assert min(box["width"], box["height"]) >= 48, target.inner_text()


def test_readings_and_a_photo_survive_a_cut_network(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    plan = demo.published()
    cure_begin(demo, plan)
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    expect(page.get_by_text("No reading yet.")).to_be_visible()
    page.context.set_offline(True)
    page.get_by_role("button", name="Reading").click()
    page.get_by_label("Inside pad").fill("141")
    page.get_by_label("Outside pad").fill("139,5")
    page.get_by_label("Lower bag").fill("207")
    shown("technician-reading")
    page.get_by_label("Lower bag").press("Enter")
    expect(page.get_by_text("1 tap waits for the network")).to_be_visible()
    page.get_by_role("button", name="Photo").first.click()
    page.get_by_label("Photo", exact=True).set_input_files(PHOTO)
    page.get_by_label("What it shows").fill("pad edge")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("Taps wait for the network and will be sent by themselves: 2")).to_be_visible()
    assert not CureReading.objects.exists()
    page.context.set_offline(False)
    expect(page.get_by_text("inside 141 °C, outside 140 °C, bags 207 kPa")).to_be_visible()
    assert CureReading.objects.get().outside_c == 139.5
    assert InjuryPhoto.objects.filter(words__endswith="pad edge").count() == 1
    shown("technician-read")


def cure_begin(demo: Demo, plan: Plan) -> None:
    """The first planned tyre with a heat block has been in the cure for an hour, begun some time ago."""
    jobs = plan_content_get(plan=plan).plan.schedule.jobs
    job = min((each for each in jobs if "." not in each.id), key=lambda each: each.end)
    damage = damage_of_job_get(user=demo.users["silas"], site=demo.site, job=job.id)
    assert damage.work_order
    hot = [place for place, stage in enumerate(job.stages) if stage.heater_set][2]
    for place, stage in enumerate(job.stages[: hot + 1]):
        since = timezone.now() - timedelta(hours=1)
        StageRun.objects.create(
            site=demo.site, work_order=damage.work_order, damage=damage, sequence=place + 1, name=stage.name,
            state="running" if place == hot else "done", started_at=since,
            ended_at=None if place == hot else since,
            heater_set=HeaterSet.objects.filter(site=demo.site, code=stage.heater_set or "").first(),
        )  # fmt: skip
    WorkOrder.objects.filter(pk=damage.work_order.pk).update(state="in_hand")


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


def test_a_watch_is_taken_over_by_name_though_the_network_is_down(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    plan = demo.published()
    tove = demo.technician_with_work(plan)
    cure_begin(demo, plan)
    page = sign_in(tove)
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    expect(page.get_by_role("alert")).to_contain_text("nobody has signed on")
    page.context.set_offline(True)
    page.get_by_role("button", name="attend it").click()
    expect(page.get_by_text("1 tap waits for the network")).to_be_visible()
    page.context.set_offline(False)
    expect(page.get_by_text("attends it since")).to_be_visible()
    expect(page.get_by_role("alert")).to_be_hidden()
    page.get_by_label("Hand over to").select_option(demo.attendant(but=tove).code)
    page.get_by_role("button", name="Ask").click()
    expect(page.get_by_text("is asked to take over")).to_be_visible()
    shown("technician-asked")
    page.get_by_role("button", name="Sign off").click()
    page.get_by_role("button", name="Yes").click()
    expect(page.get_by_role("alert")).to_contain_text("has not taken it over")
    page.goto(f"{live_server.url}/at/halfmoon/floor/closing/")
    expect(page.get_by_text("Not yet: energised or under pressure")).to_be_visible()
    expect(page.get_by_role("button", name="The bay is closed")).to_be_hidden()
    shown("technician-not-closed")


def test_who_shares_the_tablet_sends_nothing_of_somebody_else(
    demo: Demo, live_server: LiveServer, sign_in: SignIn
) -> None:
    page = sign_in(demo.technician_with_work(demo.published()))
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    # A tap that was kept as the network went, on a tablet that somebody else then takes up.
    page.evaluate("sending = true; keep([tapOf(document.querySelector('[data-tap-action=begin]'))])")
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    expect(page.get_by_text("Taps of somebody else on this tablet")).to_be_visible()
    assert not StageRun.objects.filter(state="running").exists()
    page = sign_in(demo.users["tove"])
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    expect(page.get_by_role("button", name="Done")).to_be_visible()
    assert StageRun.objects.filter(state="running").count() == 1


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


def test_a_list_that_was_asked_for_before_a_tap_does_not_undo_it(
    demo: Demo, live_server: LiveServer, sign_in: SignIn
) -> None:
    page = sign_in(demo.technician_with_work(demo.published()))
    page.goto(f"{live_server.url}/at/halfmoon/floor/")
    held: list[Route] = []

    def hold(route: Route) -> None:
        """Keep the list's next answer back, and every tap from the server."""
        if route.request.method == "GET":
            held.append(route)
        else:
            route.abort("internetdisconnected")

    page.route("**/floor/**", hold)
    with page.expect_request("**/floor/"):
        pass
    page.get_by_role("button", name="Start").first.click()
    expect(page.locator("#floor-body .tap-waits")).to_have_count(1)
    page.evaluate(LIST_CAME)
    held[0].continue_()
    page.evaluate("listCame")
    expect(page.locator("#floor-body .tap-waits")).to_have_count(1)
    page.unroute("**/floor/**")
    expect(page.get_by_role("button", name="Done", exact=True).first).to_be_visible()
