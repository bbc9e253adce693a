"""The README's tour, walked as it stands there; its pictures are taken on the way.

Each run takes them into `.artefacts/`; with `TYREWRIGHT_PICTURES=keep` they become the README's own.
"""

import os
import re
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from planner.models import WorkOrder
from planner.services.plan_replay_run import plan_replay_run
from planner.services.plans import plan_publish
from planner.services.tyre_follows import tyre_follow
from tests.functional.conftest import Demo, SignIn
from tests.lib.browser import ARTEFACTS

ROOT = Path(__file__).resolve().parents[2]
KEPT = ROOT / "fixtures/pictures"
LARGEST = 150_000  # bytes: the README stays quick to open
NAMED = re.compile(r"\(fixtures/pictures/([\w-]+)\.webp\)")


class Album:
    """The pictures of one walk, small ones."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.names: list[str] = []
        folder.mkdir(parents=True, exist_ok=True)

    def take(self, page: Page, name: str) -> None:
        """What stands on the screen now; the stories look for barriers, so this does not again."""
        raw = self.folder / f"{name}.png"
        page.screenshot(path=raw)
        small = self.folder / f"{name}.webp"
        Image.open(raw).convert("RGB").save(small, quality=70, method=6)
        raw.unlink()
        assert small.stat().st_size < LARGEST
        self.names.append(name)


def test_the_readme_s_tour(demo: Demo, live_server: LiveServer, sign_in: SignIn) -> None:
    album = Album(KEPT if os.environ.get("TYREWRIGHT_PICTURES") == "keep" else ARTEFACTS / "tour")
    draft = demo.plan(seconds=3)
    order = next(each for each in WorkOrder.objects.order_by("number") if f'"{each.code}"' in draft.plan_json)
    tyre_follow(user=demo.users["priya"], tyre=order.tyre)
    page = sign_in(demo.users["silas"])
    page.set_viewport_size({"width": 1440, "height": 900})
    at = f"{live_server.url}/at/halfmoon"
    page.goto(f"{at}/plan/")
    page.locator("#board .bar").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#panel .stage-list")).to_be_visible()
    album.take(page, "planned-day")
    page.get_by_role("button", name="Publish …").click()
    expect(page.get_by_text("Priya Lindqvist")).to_be_visible()
    album.take(page, "publish")
    page.get_by_role("button", name="Not yet").click()
    published = plan_publish(user=demo.users["silas"], plan=draft, expected_number=None)
    plan_replay_run(plan_id=published.pk, replays=200)
    page.goto(f"{at}/sheets/")
    page.get_by_role("heading", name="Before you start").first.scroll_into_view_if_needed()
    album.take(page, "shift-sheet")
    _the_planner(sign_in(demo.users["priya"]), album, at, order)
    _the_accountant(sign_in(demo.users["amos"]), album, at, order)
    named = NAMED.findall((ROOT / "README.md").read_text())
    assert sorted(named) == sorted(album.names)
    assert {path.name for path in KEPT.iterdir()} == {f"{name}.webp" for name in named}
    assert all((KEPT / f"{name}.webp").stat().st_size < LARGEST for name in named)


def _the_planner(page: Page, album: Album, at: str, order: WorkOrder) -> None:
    page.goto(f"{at}/orders/{order.number}/")
    expect(page.get_by_text("What would bring it forward")).to_be_visible()
    album.take(page, "promise")
    page.goto(f"{at}/fleet/spares/")
    album.take(page, "spare-cover")


def _the_accountant(page: Page, album: Album, at: str, order: WorkOrder) -> None:
    page.goto(f"{at}/accounts/compare/{order.number}/")
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    album.take(page, "repair-or-new")
