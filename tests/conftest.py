"""What the tests need beside Python: asked once, and a missing server skips by name or, in CI, fails."""

import os
import socket
from collections.abc import Callable, Iterator
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from playwright.sync_api import ConsoleMessage, Page
from pytest_django import DjangoDbBlocker
from pytest_django.live_server_helper import LiveServer

from tests.lib.audit_guard import allow_removal
from tests.lib.demo_copy import demo_fill

CHROMIUM = Path("/usr/bin/chromium")
REDIS = ("127.0.0.1", 6379)
POSTGRES = (os.environ.get("PGHOST") or "127.0.0.1", 5432)
CUT_NETWORK = ("net::ERR_INTERNET_DISCONNECTED", "htmx:sendError", "htmx:afterRequest")
CHROMIUM_ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-quic"]


def _answers(address: tuple[str, int]) -> bool:
    try:
        socket.create_connection(address, timeout=1).close()
    except OSError:
        return False
    return True


NEEDS: dict[str, tuple[Callable[[], bool], str]] = {
    "browser": (CHROMIUM.exists, f"needs Chromium at {CHROMIUM}: install the package chromium"),
    "redis": (lambda: _answers(REDIS), "needs Redis on 127.0.0.1:6379: install redis-server and start it"),
    "postgres": (lambda: _answers(POSTGRES), "needs PostgreSQL on 127.0.0.1:5432: install it and start it"),
}


def pytest_configure() -> None:
    """Let Playwright's event loop and Django's blocking database calls share the test thread."""
    os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark every test that takes a page as a browser test, before marks are selected by."""
    for item in items:
        if "page" in getattr(item, "fixturenames", ()):
            item.add_marker("browser")


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Skip a test whose server is missing, saying which; in CI that is a failure."""
    for name, (is_there, reason) in NEEDS.items():
        if item.get_closest_marker(name) and not is_there():
            if os.environ.get("CI"):
                pytest.fail(f"in CI nothing is skipped: {reason}", pytrace=False)
            pytest.skip(reason)


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> None:
    """Django empties SQLite's tables with DELETE between tests, which an installation's guard refuses."""
    with django_db_blocker.unblock():
        allow_removal()


@pytest.fixture
def demo_loaded(transactional_db: None, tmp_path_factory: pytest.TempPathFactory) -> Callable[[date], None]:
    """Load the demo sites around a day into the test's database."""
    return partial(demo_fill, tmp_path_factory)


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, Any]:
    """Debian's Chromium, which also runs as root."""
    return {"executable_path": str(CHROMIUM), "args": CHROMIUM_ARGUMENTS}


@pytest.fixture
def watched_page(page: Page) -> Iterator[Page]:
    """A page whose console errors, script errors and refused loads fail the test at its end.

    What a browser and htmx say of a network that a test cut by hand is no fault of the page.
    """
    errors: list[str] = []

    def told(message: ConsoleMessage) -> None:
        if message.type == "error" and not any(cut in message.text for cut in CUT_NETWORK):
            errors.append(message.text)

    page.on("console", told)
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield page
    assert errors == []


@pytest.fixture
def sign_in(live_server: LiveServer, watched_page: Page) -> Callable[[Any], Page]:
    """Give a page that the given user is signed in on; addresses follow `live_server.url`."""

    def _sign_in(user: Any) -> Page:
        client = Client()
        client.force_login(user)
        session = client.cookies["sessionid"].value
        watched_page.context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
        return watched_page

    return _sign_in
