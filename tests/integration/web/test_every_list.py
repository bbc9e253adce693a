"""No page asks once for each of its rows: every page of the demo site, found by what pages offer."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from planner.models import User
from planner.services.demo_site import demo_site_load
from tests.lib.repeated_queries import repeated
from tests.lib.site_walk import client_of, walk

pytestmark = pytest.mark.django_db
READERS = ("silas", "adele", "amos", "priya", "tove")
MOST = 3
"""Lists of the demo site have more rows than that, so a query that comes once for each of them stands out."""
MORE = {"accounts_comparison": 4}
"""Where a query comes more often, however many rows there are: sheet, lives and approval read assumptions."""


def test_a_query_for_each_row_stands_out_and_one_for_all_does_not() -> None:
    User.objects.bulk_create(User(username=f"u{number}") for number in range(4))
    with CaptureQueriesContext(connection) as queries:
        list(User.objects.filter(pk__in=[1, 2, 3]))
        list(User.objects.filter(pk__in=[1]))
        for user in User.objects.all():
            user.refresh_from_db()
    asked = [each["sql"] for each in queries.captured_queries]
    (shape,) = repeated(asked, MOST)
    assert repeated(asked, MOST) == {shape: 4}
    assert repeated(asked, 4) == {}


def test_no_page_asks_once_for_each_row(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    demo_site_load(today=timezone.localdate())
    found = walk([User.objects.get(username=name) for name in READERS], "halfmoon")
    wrong = {}
    for page in found.pages.values():
        client = client_of(page.reader)
        with CaptureQueriesContext(connection) as queries:
            client.get(page.address)
        if again := repeated((each["sql"] for each in queries.captured_queries), MORE.get(page.name, MOST)):
            wrong[page.name] = again
    assert wrong == {}
    assert len(found.pages) > 100
