"""How long the month's page takes over 50,000 booked work orders, all of them in that month or in twelve.

Run: .venv/bin/python -m tests.bench.costing_month (the database is the one of the testing settings)
"""

import os
import statistics
import sys
import time
from datetime import UTC, date, datetime

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.config.settings.testing")
django.setup()

from django.db import connection  # noqa: E402
from django.test import Client  # noqa: E402
from django.test.utils import setup_databases, setup_test_environment, teardown_databases  # noqa: E402

from planner.models import CostRepair, CostVariance, Site, Tyre, WorkOrder  # noqa: E402
from tests.lib.books import Books, books  # noqa: E402

ORDERS, CAUSES, TIMES = 50_000, ("efficiency", "rate", "usage", "price", "outcome"), 21
AT = datetime(2026, 6, 1, tzinfo=UTC)


def _fill(site: Site, months: int) -> None:
    """50,000 closed orders with their costs and five variances each, spread over so many months."""
    tyre = Tyre.objects.filter(site=site).first()
    orders = WorkOrder.objects.bulk_create(
        (
            WorkOrder(
                site=site, number=10 + place, tyre=tyre, priority=10, received_at=AT, released_at=AT,
                needed_by=AT, state="repaired",
            )
            for place in range(ORDERS)
        ),
        batch_size=2000,
    )  # fmt: skip
    repairs = CostRepair.objects.bulk_create(
        (
            CostRepair(
                site=site, work_order=order, month=date(2026, 1 + place % months, 1), estimate_minor=120_000,
                actual_minor=130_000 + place % 977, avoided_minor=2_000_000, hours_gained=3000,
                failed=place % 9 == 0,
            )
            for place, order in enumerate(orders)
        ),
        batch_size=2000,
    )  # fmt: skip
    CostVariance.objects.bulk_create(
        (
            CostVariance(site=site, repair=repair, month=repair.month, cause=cause, amount_minor=2000)
            for repair in repairs
            for cause in CAUSES
        ),
        batch_size=2000,
    )


def _timed(found: Books) -> list[float]:
    client = Client()
    client.force_login(found.accountant)
    seconds = []
    for _ in range(TIMES):
        began = time.perf_counter()
        assert client.get("/at/gum-creek/accounts/").status_code == 200
        seconds.append(time.perf_counter() - began)
    return seconds


def main() -> None:
    """Time the page with 50,000 orders in twelve months, then in one."""
    setup_test_environment()
    made = setup_databases(verbosity=0, interactive=False)
    found = books()
    for months in (12, 1):
        CostVariance.objects.all().delete()
        CostRepair.objects.all().delete()
        WorkOrder.objects.filter(number__gte=10).delete()
        _fill(found.site, months)
        with connection.cursor() as cursor:
            # What a database in service does by itself after so many new rows.
            cursor.execute("ANALYZE")
        seconds = _timed(found)
        middle = statistics.median(seconds) * 1000
        words = f"{connection.vendor}: {ORDERS} orders in {months} months: median {middle:.0f} ms"
        sys.stdout.write(f"{words}, slowest {max(seconds) * 1000:.0f} ms\n")
    teardown_databases(made, verbosity=0)


if __name__ == "__main__":
    main()
