"""A tyre is hot and nobody attends it: every open page says so, until somebody signs on by name."""

from django.utils import timezone
from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from planner.domain.size_reading import size_read
from planner.domain.states import PLANNABLE_WORK
from planner.models import Damage, HeaterSet, StageRun
from planner.selectors.routes import route_get
from tests.functional.conftest import Demo, Shown, SignIn


def heat_begin(demo: Demo) -> None:
    """The first order that has a route for its injury is rigged and heated as of now."""
    waiting = Damage.objects.filter(site=demo.site, work_order__state__in=PLANNABLE_WORK, stage_runs=None)
    damage = waiting.select_related("tyre", "work_order").order_by("pk")[0]
    assert damage.work_order
    size = size_read(damage.tyre.size).size
    block = route_get(site=demo.site, size=size, zone=damage.zone).stages.filter(block=True)
    for stage in block.order_by("sequence")[:2]:
        is_rig = stage.kind == "hands_on"
        StageRun.objects.create(
            site=demo.site, work_order=damage.work_order, damage=damage, sequence=stage.sequence,
            name=stage.name, state="done" if is_rig else "running", started_at=timezone.now(),
            ended_at=timezone.now() if is_rig else None,
            heater_set=HeaterSet.objects.filter(site=demo.site)[0],
        )  # fmt: skip


def test_the_alarm_comes_by_itself_and_goes_once_somebody_attends(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/queue/")
    expect(page.get_by_role("alert")).to_be_hidden()
    heat_begin(demo)
    expect(page.get_by_role("alert")).to_contain_text("nobody has signed on")
    shown("alarm-queue")
    page.get_by_role("link", name="Go to it, then sign on here").click()
    expect(page.get_by_role("heading", name="Floor", level=1)).to_be_visible()
    shown("alarm-floor")
    page.get_by_label("Who attends it").select_option(demo.attendant().code)
    page.get_by_role("button", name="Sign on").click()
    expect(page.get_by_text("attends it since")).to_be_visible()
    expect(page.get_by_role("alert")).to_be_hidden()
    shown("alarm-attended")
