"""No page asks once for each of its rows: every page of the demo site, found by what pages offer."""

from collections.abc import Callable
from datetime import date
from zoneinfo import ZoneInfo

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from planner.models import User
from tests.lib.repeated_queries import repeated
from tests.lib.site_walk import walk

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


def test_no_page_asks_once_for_each_row(
    demo_loaded: Callable[[date], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    demo_loaded(timezone.localdate(timezone=ZoneInfo("Australia/Perth")))
    found = walk([User.objects.get(username=name) for name in READERS], "halfmoon")
    wrong = {
        page.name: again
        for page in found.pages.values()
        if (again := repeated(page.asked, MORE.get(page.name, MOST)))
    }
    assert wrong == {}
    assert len(found.pages) > 100
