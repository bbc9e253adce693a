"""Every page of the program, found by following what the pages offer: no barrier, no error, no overflow."""

from collections.abc import Iterable

from django.contrib.staticfiles import finders
from playwright.sync_api import ConsoleMessage, Page, Route
from pytest_django.live_server_helper import LiveServer

from planner.domain.file_tasks import FileTaskKind
from planner.services.file_tasks.asking import file_task_ask
from planner.services.file_tasks.running import file_task_run
from tests.functional.conftest import Demo
from tests.lib.browser import WCAG, axe_violations
from tests.lib.site_walk import WholePage, walk

READERS = ("silas", "adele", "amos", "priya", "tove")
"""Who does the most comes first: a page is looked at as the one who does something on it."""

STORIES = {
    "sign_in": "before anybody is signed in",
    "password_choose": "its address is in a letter",
    "code_enter": "on the way in, with one-time codes",
    "calendar_feed": "an address for calendars, no page",
    "cure_log_look": "after a logger's file was sent",
    "photo": "a picture, no page",
    "file_task_result": "a file, no page",
    "plan_job": "a part of the plan page, for a bar that was opened",
    "plan_moved": "a part of the plan page, once a change moved something",
    "plan_progress": "a part of the plan page, while a plan is in the making",
}
"""What no page of a quiet day offers, and why; the stories of their users come by them."""


def test_every_page(demo: Demo, live_server: LiveServer, page: Page) -> None:
    demo.published()
    demo.plan()
    _repairs_written_out(demo)
    found = walk([demo.users[name] for name in READERS], demo.site.code)
    page.set_viewport_size({"width": 1024, "height": 768})
    _served_from_memory(page, live_server.url, found.pages.values())
    wrong = {
        each.name: faults for each in found.pages.values() if (faults := _faults(page, live_server.url, each))
    }
    assert wrong == {}
    assert found.unseen <= set(STORIES), found.unseen - set(STORIES)


def _repairs_written_out(demo: Demo) -> None:
    """As the worker does it."""
    task = file_task_ask(user=demo.users["amos"], site=demo.site, kind=FileTaskKind.REPAIRS_EXPORT)
    file_task_run(task_id=task.pk)


def _served_from_memory(page: Page, server: str, pages: Iterable[WholePage]) -> None:
    """The answers that the walk got, and style and script as they lie on the disk, without the server."""
    kept = {server + each.address: each for each in pages}

    def serve(route: Route) -> None:
        address = route.request.url
        if address in kept:
            policy = {"Content-Security-Policy": kept[address].policy, "Content-Type": "text/html"}
            route.fulfill(body=kept[address].html, headers=policy)
        elif address.startswith(f"{server}/static/"):
            route.fulfill(path=finders.find(address.removeprefix(f"{server}/static/").partition("?")[0]))
        elif address.endswith("/alarm/?seen="):
            route.fulfill(status=204)
        else:
            route.continue_()

    page.route("**/*", serve)


def _faults(page: Page, server: str, seen: WholePage) -> list[str]:
    """What a browser says of a page: errors, barriers, or that it does not fit on a tablet."""
    told: list[str] = []

    def hear(message: ConsoleMessage) -> None:
        if message.type == "error":
            told.append(message.text)

    page.context.add_cookies([{"name": "sessionid", "value": seen.session, "url": server}])
    page.on("console", hear)
    page.goto(server + seen.address)
    told.extend(axe_violations(page, WCAG))
    if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
        told.append("wider than the screen")
    if page.evaluate("document.querySelector('.masthead')?.offsetHeight > 60"):
        told.append("the header takes two rows")
    page.remove_listener("console", hear)
    return told
