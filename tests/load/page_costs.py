"""Processor time and queries of each page of `mixed_users`: `python -m tests.load.page_costs`.

Processor time does not see what else runs on the machine; `--profile ADDRESS` says where one page spends it.
"""

import argparse
import cProfile
import pstats
import tempfile
import time
from pathlib import Path
from statistics import median
from typing import Any

import django

from tests.load.mixed_users import API, PAGES
from tests.load.scratch import scratch_drop, scratch_open

TIMES = 7


def main() -> None:
    """Build and publish a plan, then ask for everything in this process."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--postgres", action="store_true")
    parser.add_argument("--profile", default="", help="such as /at/ridge/plan/")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="tyrewright-load-") as folder:
        scratch_open(Path(folder), postgres=asked.postgres)
        try:
            django.setup()
            _run(asked.profile)
        finally:
            _close()
            scratch_drop()


def _close() -> None:
    from django.db import connections

    connections.close_all()


def _run(profiled: str) -> None:
    from unittest.mock import patch

    from celery import current_app
    from django.test import Client

    from planner.models import User
    from planner.services.plan_build_run import plan_build_run
    from planner.services.plan_builds import plan_build_start
    from planner.services.plan_replay_run import plan_replay_run
    from planner.services.plans import plan_publish
    from tests.lib.mine import at
    from tests.load.bay_users import bay_open

    bay = bay_open(len(PAGES), tuple(PAGES))
    site, user = bay.mine.site, bay.mine.supervisor
    with patch.object(current_app, "send_task", lambda *_, **__: None):
        build = plan_build_start(user=user, site=site, start=at(6), end=at(18, days=3), seconds=5)
        plan = plan_build_run(build_id=build.pk)
        assert plan is not None
        plan_replay_run(plan_id=plan.pk)
        plan_publish(user=user, plan=plan, expected_number=None)
    for role, pages in PAGES.items():
        client = Client(headers={"host": "127.0.0.1"})
        client.force_login(User.objects.get(username=f"{role}-{list(PAGES).index(role)}"))
        addresses = [f"/at/ridge/{page}" for page in pages]
        addresses += [f"/api/v1/sites/ridge/{page}" for page in API]
        for address in addresses:
            _measure(client, role, address, profiled)


def _measure(client: object, role: str, address: str, profiled: str) -> None:
    from django.db import connection
    from django.test import Client

    assert isinstance(client, Client)
    queries: list[str] = []

    def count(execute: Any, sql: str, *others: Any) -> Any:
        queries.append(sql)
        return execute(sql, *others)

    with connection.execute_wrapper(count):
        status = client.get(address).status_code
    taken = []
    for _ in range(TIMES):
        began = time.process_time()
        client.get(address)
        taken.append(time.process_time() - began)
    print(f"{role:<11}{address:<40}{status} {median(taken) * 1000:6.0f} ms {len(queries):4} queries")
    if address == profiled:
        profile = cProfile.Profile()
        profile.runcall(client.get, address)
        pstats.Stats(profile).sort_stats("cumulative").print_stats(45)


if __name__ == "__main__":
    main()
