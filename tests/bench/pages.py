"""Every page on the demo site with ten times its open work: `python -m tests.bench.pages`.

Server: median of five answers, by the clock and by processor time, which other work on the machine does not
move. First load: the page and all that it links to, gzipped. Interactive: navigation to the end of
DOMContentLoaded in a headless Chromium. Panning: frames a second while the plan page's week scrolls by.
"""

import gzip
import os
import re
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import Any

import django

from tests.bench.panning import PAN
from tests.conftest import CHROMIUM, CHROMIUM_ARGUMENTS

TIMES = 5
COPIES = 9
READERS = ("silas", "adele", "amos", "priya", "tove")
LINKED = re.compile(r'(?:href|src)="/static/([^"]+)"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What a page costs the server [ms], and its first load [kB]."""

    name: str
    clock: float
    processor: float
    size: float


def main() -> None:
    """Open the site, ask for each page, then look at each in the browser."""
    with tempfile.TemporaryDirectory(prefix="tyrewright-bench-") as folder:
        os.environ["TYREWRIGHT_VAR"] = folder
        os.environ["DJANGO_SETTINGS_MODULE"] = "planner.config.settings.embedded"
        os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
        django.setup()
        _site_open()
        found = _pages_find()
        _report([_cost(page) for page in found])
        with _served() as server:
            _browse(server, found)


def _site_open() -> None:
    """The demo site, each open injury nine times more, a published week and its odds."""
    from datetime import timedelta
    from unittest.mock import patch

    from celery import current_app
    from django.conf import settings
    from django.core.management import call_command
    from django.utils import timezone

    from planner.models import Site, User
    from planner.services.demo_site import demo_site_load
    from planner.services.plan_build_run import plan_build_run
    from planner.services.plan_builds import plan_build_start
    from planner.services.plans import plan_publish

    settings.ALLOWED_HOSTS = ["*"]
    call_command("migrate", verbosity=0)
    with patch.object(current_app, "send_task", lambda *_, **__: None):
        demo_site_load(today=timezone.localdate())
        site, silas = Site.objects.get(code="halfmoon"), User.objects.get(username="silas")
        _multiply(site, silas)
        start = timezone.now().replace(minute=0, second=0, microsecond=0)
        build = plan_build_start(
            user=silas, site=site, start=start, end=start + timedelta(days=7), seconds=20
        )
        plan = plan_build_run(build_id=build.pk)
        assert plan is not None
        plan_publish(user=silas, plan=plan, expected_number=None)


def _multiply(site: Any, user: Any) -> None:
    from planner.domain.injury import Zone
    from planner.domain.states import PLANNABLE_WORK
    from planner.models import Damage
    from planner.services.tyres import damage_record, tyre_register
    from planner.services.work_orders import work_order_decide_to_repair, work_order_receive

    waiting = Damage.objects.filter(site=site, work_order__state__in=PLANNABLE_WORK)
    for damage in list(waiting.select_related("tyre", "work_order")):
        before = damage.work_order
        assert before is not None
        for copy in range(COPIES):
            serial = f"{damage.tyre.serial}-{copy}"
            if type(damage.tyre).objects.filter(site=site, serial=serial).exists():
                continue  # a second injury of a tyre that was copied already
            tyre = tyre_register(user=user, site=site, serial=serial, size_as_written=damage.tyre.size)
            damage_record(
                user=user, tyre=tyre, zone=Zone(damage.zone), length_mm=damage.length_mm,
                width_mm=damage.width_mm, depth_mm=damage.depth_mm,
            )  # fmt: skip
            order = work_order_receive(
                user=user, site=site, tyre=tyre, needed_by=before.needed_by,
                received_at=before.received_at,
            )  # fmt: skip
            work_order_decide_to_repair(user=user, work_order=order)


def _pages_find() -> list[Any]:
    from planner.models import User, WorkOrder
    from tests.lib.site_walk import walk

    found = walk([User.objects.get(username=name) for name in READERS], "halfmoon")
    print(f"{WorkOrder.objects.filter(site__code='halfmoon').count()} orders, {len(found.pages)} pages")
    return list(found.pages.values())


def _cost(page: Any) -> Cost:
    from django.contrib.staticfiles import finders

    from tests.lib.site_walk import client_of

    client, clocks, processors = client_of(page.reader), [], []
    client.get(page.address)
    for _ in range(TIMES):
        clock, processor = time.perf_counter(), time.process_time()
        client.get(page.address)
        clocks.append(time.perf_counter() - clock)
        processors.append(time.process_time() - processor)
    files = [Path(str(finders.find(each))).read_bytes() for each in set(LINKED.findall(page.html))]
    size = sum(len(gzip.compress(each)) for each in (page.html.encode(), *files))
    return Cost(
        name=page.name, clock=median(clocks) * 1000, processor=median(processors) * 1000, size=size / 1000
    )


def _report(costs: list[Cost]) -> None:
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores; the slowest by processor time")
    for cost in sorted(costs, key=lambda each: -each.processor)[:12]:
        print(f"{cost.name:<24}{cost.clock:6.0f} ms {cost.processor:6.0f} ms processor {cost.size:6.0f} kB")
    print(f"median {median(each.processor for each in costs):.0f} ms of processor time")
    print(f"largest first load {max(each.size for each in costs):.0f} kB")


@contextmanager
def _served() -> Iterator[str]:
    """The site behind the demo's own web server."""
    from django.core.wsgi import get_wsgi_application
    from waitress.server import create_server

    server: Any = create_server(get_wsgi_application(), host="127.0.0.1", port=0, threads=4, ident=None)
    threading.Thread(target=server.run, daemon=True).start()
    yield f"http://127.0.0.1:{server.effective_port}"
    server.close()


def _browse(server: str, found: list[Any]) -> None:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=CHROMIUM_ARGUMENTS)
        page = browser.new_page(viewport={"width": 1024, "height": 768})
        ready = {}
        for each in found:
            page.context.add_cookies([{"name": "sessionid", "value": each.session, "url": server}])
            page.goto(server + each.address)
            entry = "performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"
            ready[each.name] = float(page.evaluate(entry))
        slowest = sorted(ready, key=lambda name: -ready[name])[:5]
        print(f"interactive: median {median(ready.values()):.0f} ms; slowest", end=" ")
        print(", ".join(f"{name} {ready[name]:.0f} ms" for name in slowest))
        silas = next(each for each in found if each.name == "plan")
        page.context.add_cookies([{"name": "sessionid", "value": silas.session, "url": server}])
        for zoom in ("shift", "week"):
            page.goto(f"{server}/at/halfmoon/plan/?zoom={zoom}")
            stages = page.locator("#board .bar").count()
            print(f"plan by {zoom}, {stages} bars: pans at {page.evaluate(PAN):.0f} frames a second")
        print(f"load {os.getloadavg()[0]:.1f}")
        browser.close()


if __name__ == "__main__":
    main()
