"""A list asks as often with three rows as with one: every list that the pages offer, without being named."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import pytest
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from planner.domain.file_tasks import FileTaskKind
from planner.models import Site, Tyre, User
from planner.services.file_tasks.asking import file_task_ask
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from planner.services.plans import plan_publish
from planner.services.promise_notices import promise_notices_tell
from planner.services.tyre_follows import tyre_follow
from tests.lib.few_rows import keep_few
from tests.lib.site_walk import client_of, walk

pytestmark = pytest.mark.django_db
READERS = ("silas", "adele", "amos", "priya", "tove")
MORE = {"machine": 1}
"""Where three rows ask once for what one row has no use for: which tyres fit a seat that is free."""
_ROW = re.compile(r"<(?:tr|li)\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """How many rows a page shows, and what it asked the database for."""

    rows: int
    queries: tuple[str, ...]


def asked_of_pages() -> Mapping[str, Asked]:
    """Every page by its name, read a second time, so that what is kept in memory is there."""
    found = walk([User.objects.get(username=name) for name in READERS], "halfmoon")
    asked = {}
    for page in found.pages.values():
        with CaptureQueriesContext(connection) as queries:
            html = client_of(page.reader).get(page.address).content.decode()
        main = html.partition("<main")[2].partition("</main>")[0]
        asked[page.name] = Asked(
            rows=len(_ROW.findall(main)), queries=tuple(each["sql"] for each in queries.captured_queries)
        )
    return asked


def with_rows(rows: int) -> tuple[Mapping[str, int], Mapping[str, Asked]]:
    """The demo site cut down to so many rows of everything, put back at the end."""
    with transaction.atomic():
        left = keep_few(Site.objects.get(code="halfmoon"), rows)
        asked = asked_of_pages()
        transaction.set_rollback(True)
    return left, asked


def _filled() -> None:
    """What a quiet demo site lacks: plans, one after the other, who is told of them, and files."""
    site, users = Site.objects.get(code="halfmoon"), {user.username: user for user in User.objects.all()}
    for tyre in Tyre.objects.filter(site=site, work_orders__state="to_repair"):
        tyre_follow(user=users["priya"], tyre=tyre)
    start = timezone.now().replace(minute=0, second=0, microsecond=0)
    for number in range(3):
        first, last = start + timedelta(days=number), start + timedelta(days=number + 3)
        build = plan_build_start(user=users["silas"], site=site, start=first, end=last, seconds=1)
        plan = plan_build_run(build_id=build.pk)
        assert plan is not None
        plan_publish(user=users["silas"], plan=plan, expected_number=number or None)
        promise_notices_tell(plan_id=plan.pk)
        file_task_ask(user=users["amos"], site=site, kind=FileTaskKind.REPAIRS_EXPORT)


def test_a_list_asks_as_often_with_three_rows_as_with_one(
    demo_loaded: Callable[[date], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    demo_loaded(timezone.localdate())
    _filled()
    (few, one), (many, three) = with_rows(1), with_rows(3)
    assert sum(many.values()) > 2 * sum(few.values())
    lists = {name for name in one.keys() & three.keys() if three[name].rows > one[name].rows}
    wrong = {}
    for name in lists:
        more = len(three[name].queries) - len(one[name].queries)
        if more != MORE.get(name, 0):
            wrong[name] = f"{more} more queries for {three[name].rows} rows than for {one[name].rows}"
    assert wrong == {}
    assert len(lists) >= 30
