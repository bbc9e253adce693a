"""The demo site's cures: planned by its chart, and one finished with a signed record."""

from collections.abc import Callable
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from django.utils import timezone

from planner.models import LoggedCure, RecordVersion, Site, User, WorkOrder
from planner.selectors.cures import lot_warning_list
from planner.selectors.order_cures import order_cure_list


def test_the_demo_shows_a_cure_from_chart_to_signature(demo_loaded: Callable[[date], None]) -> None:
    today = timezone.localdate(timezone=ZoneInfo("Australia/Perth"))
    demo_loaded(today)
    site, silas = Site.objects.get(code="halfmoon"), User.objects.get(username="silas")
    version = RecordVersion.objects.get(site=site)
    (log,) = version.content["logs"]
    # The file has a gap of 12 min and one spike on purpose.
    assert log["verdict"] == "needs_decision"
    assert {each["kind"] for each in log["judgement"]["findings"]} == {"gap", "spike"}
    assert all(check["passed"] for check in log["judgement"]["checks"])
    sources = {each["limit"]: each["source"] for each in log["limits"]}
    assert sources["start_c"] == "Fill stock F2: maker's sheet F2, edition 4"
    assert sources["preheat_low_c"] == "common practice"
    assert bytes(LoggedCure.objects.get().file_raw).startswith(b"Elapsed min,")
    order = WorkOrder.objects.get(site=site, tyre__serial="HT-3302")
    (cure,) = order_cure_list(order=order)
    # Shoulder, 95 mm deep: between 80 mm (320) and 100 mm (395) of its chart, rounded up.
    assert cure.figures is not None
    assert cure.figures.timed_min == 377
    warned = {
        lot.code: lot.expires_on - today for lot in lot_warning_list(user=silas, site=site, today=today)
    }
    assert warned == {
        "C1-0311": timedelta(days=-6),
        "F2-0417": timedelta(days=9),
        "V1-077": timedelta(days=20),
    }
