"""The pages of cures, their readings, limits and the store: at the rim, for each role."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from planner.domain.cure_reading import GaugeReading
from planner.models import CureLimitRow, CureLogUpload, CureReading, LoggedCure, User
from planner.selectors.cure_plans import cure_plan_get
from planner.services.cure_log_uploads import cure_log_upload_add, upload_keep
from planner.services.cure_readings import cure_reading_add
from planner.services.cure_traces import cure_trace_get
from planner.services.preferences import preference_set
from tests.integration.cure_site import CureSite
from tests.lib.cure_logs import readings, rows

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 8, 3, 4, 0, tzinfo=UTC)


@pytest.fixture
def bay() -> CureSite:
    return CureSite()


def client_of(user: User) -> Client:
    client = Client()
    client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    return client


def cures(bay: CureSite) -> str:
    return f"/at/north/orders/{bay.order.number}/cures/"


def kept_log(bay: CureSite, number: int = 0) -> LoggedCure:
    lines = [",".join(map(str, row.values())) for row in rows(*readings())]
    raw = ("Time,In,Out,Bag psi\n" + "\n".join(lines) + "\n" * number).encode()
    upload = cure_log_upload_add(user=bay.technician, damage=bay.damage, raw=raw, name=f"{number}.csv")
    return upload_keep(user=bay.technician, upload=upload)


def queries(client: Client, path: str) -> int:
    client.get(path)
    with CaptureQueriesContext(connection) as counted:
        assert client.get(path).status_code == 200
    return len(counted)


def test_the_cures_page_costs_the_same_for_one_log_and_for_three(bay: CureSite) -> None:
    supervisor = client_of(bay.supervisor)
    counts = []
    for numbers in ((0,), (1, 2)):
        for number in numbers:
            kept_log(bay, number)
            cure_reading_add(
                user=bay.technician, damage=bay.damage, reading=GaugeReading(inside=140),
                taken_at=NOON + timedelta(minutes=15 * number),
            )  # fmt: skip
        counts.append(queries(supervisor, cures(bay)))
    assert counts[0] == counts[1]


def test_the_materials_page_costs_the_same_for_one_lot_and_for_three(bay: CureSite) -> None:
    technician = client_of(bay.technician)
    counts = []
    for codes in (("L1",), ("L2", "L3")):
        for code in codes:
            bay.lot(code, date(2099, 1, 1))
        counts.append(queries(technician, "/at/north/materials/"))
    assert counts[0] == counts[1]


def test_a_kept_trace_draws_what_the_file_says_and_the_file_is_not_read_again(
    bay: CureSite, monkeypatch: pytest.MonkeyPatch
) -> None:
    logged = LoggedCure.objects.get(pk=kept_log(bay).pk)
    kept = cure_trace_get(logged_cure=logged)
    logged.trace = None
    again = cure_trace_get(logged_cure=logged)
    assert (kept.minutes, kept.inside_c, kept.events) == (again.minutes, again.inside_c, again.events)
    assert (kept.readings, kept.plan["timed_min"]) == (291, 90)
    monkeypatch.setattr("planner.services.cure_traces.cure_log_rows", None)
    assert client_of(bay.supervisor).get(cures(bay)).status_code == 200


def test_readings_are_taken_corrected_and_judged(bay: CureSite) -> None:
    technician = client_of(bay.technician)
    start = timezone.localtime() - timedelta(hours=5)
    for minute in range(0, 291, 15):
        inside = 60 + 2 * minute if minute <= 40 else 140
        told = {
            "taken_at": f"{start + timedelta(minutes=minute):%Y-%m-%dT%H:%M}", "inside": f"{inside},0",
            "outside": str(inside - 1), "pressure": "207",
        }  # fmt: skip
        answer = technician.post(f"{cures(bay)}{bay.damage.pk}/reading/", told)
        assert answer.status_code == 302, answer.content
    wrong = CureReading.objects.order_by("taken_at")[0]
    path = f"{cures(bay)}readings/{wrong.pk}/correct/"
    assert technician.post(path, {"inside": "61", "outside": "60", "reason": "misread"}).status_code == 302
    page = technician.get(cures(bay)).content.decode()
    assert "<s>inside 60 °C, outside 59 °C, bags 207 kPa</s>" in page
    assert technician.post(f"{cures(bay)}{bay.damage.pk}/judge/").status_code == 302
    upload = CureLogUpload.objects.get()
    assert (upload.by_hand, upload.file_name) == (True, "readings taken by hand")
    logged = upload_keep(user=bay.technician, upload=upload)
    assert logged.by_hand
    assert b"tess" in bytes(logged.file_raw)
    assert not any(each["kind"] == "gap" for each in logged.judgement["findings"])


def test_a_reading_ahead_of_now_is_refused(bay: CureSite) -> None:
    told = {"taken_at": f"{timezone.localtime() + timedelta(days=1):%Y-%m-%dT%H:%M}", "inside": "140"}
    answer = client_of(bay.technician).post(f"{cures(bay)}{bay.damage.pk}/reading/", told)
    assert answer.status_code == 422
    assert not CureReading.objects.exists()


def test_the_administrator_keeps_limits_and_others_read_them(bay: CureSite) -> None:
    administrator = client_of(User.objects.get(username="adele"))
    told = {"limit": "release_c", "value": "90", "place": "middle", "source": "bay sheet 4"}
    assert administrator.post("/at/north/cure-limits/add/", told).status_code == 302
    row = CureLimitRow.objects.get()
    assert cure_plan_get(damage=bay.damage).plan.release_c == 90
    page = client_of(bay.technician).get("/at/north/cure-limits/").content.decode()
    assert "bay sheet 4" in page
    assert "Give a limit" not in page
    assert client_of(bay.technician).post("/at/north/cure-limits/add/", told).status_code == 403
    path = f"/at/north/cure-limits/{row.pk}/remove/"
    assert administrator.post(path, {"why": ""}).status_code == 422
    assert administrator.post(path, {"why": "new sheet"}).status_code == 302
    assert cure_plan_get(damage=bay.damage).plan.release_c == 100


def test_a_limit_that_contradicts_is_told_in_the_form_and_nothing_typed_is_lost(bay: CureSite) -> None:
    administrator = client_of(User.objects.get(username="adele"))
    told = {"limit": "start_c", "value": "150", "source": "a typing error"}
    page = administrator.post("/at/north/cure-limits/add/", told).content.decode()
    assert "contradict each other" in page
    assert "a typing error" in page
    assert not CureLimitRow.objects.exists()


def test_the_order_and_the_record_tell_the_spread_and_the_limits(bay: CureSite) -> None:
    supervisor = client_of(bay.supervisor)
    kept_log(bay)
    order = supervisor.get(f"/at/north/orders/{bay.order.number}/").content.decode()
    record = supervisor.get(f"/at/north/orders/{bay.order.number}/record/").content.decode()
    for page in (order, record):
        assert "P50 and P90: cool-down" in page
    assert "common practice" in record


def test_limits_drawings_and_verdicts_are_told_and_typed_in_the_readers_units(bay: CureSite) -> None:
    kept_log(bay)
    adele = User.objects.get(username="adele")
    client = client_of(adele)
    preference_set(user=adele, language="", temperature_unit="°F", pressure_unit="psi")
    page = client.get(cures(bay)).content.decode()
    for words in (
        "inside pad, °F", "bags, psi", "cure: 248 °F to 293 °F", "both pads at 248 °F", "°F apart",
    ):  # fmt: skip
        assert words in page, words
    assert "°C" not in page
    assert "kPa" not in page
    told = {"limit": "together_c", "value": "18", "source": "bay sheet 4"}
    assert client.post("/at/north/cure-limits/add/", told).status_code == 302
    told = {"limit": "pressure_kpa", "value": "29", "source": "bay sheet 4"}
    assert client.post("/at/north/cure-limits/add/", told).status_code == 302
    # 18 degrees of Fahrenheit are 10 of Celsius apart; 29 psi × 6.894757 = 199.95 kPa.
    held = dict(CureLimitRow.objects.filter(source="bay sheet 4").values_list("limit", "value"))
    assert held == {"together_c": pytest.approx(10.0), "pressure_kpa": pytest.approx(199.948, abs=0.001)}
    limits = client.get("/at/north/cure-limits/").content.decode()
    assert "the pads may lie apart by: <strong>18 °F</strong>" in limits
    assert "29 psi" in limits
    refused = client.post("/at/north/cure-limits/add/", {"limit": "start_c", "value": "500", "source": "x"})
    # No cure starts below 40 °C or above 180 °C.
    assert "from 104 °F to 356 °F, not 500" in refused.content.decode()
    preference_set(user=adele, language="", temperature_unit="", pressure_unit="")
    assert "both pads at 120 °C" in client.get(cures(bay)).content.decode()
