"""The planner's tools: views of the queue, files of damage, finding, paper, and when a tyre is needed."""

import io
from datetime import timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from openpyxl import Workbook, load_workbook
from PIL import Image

from planner.domain.errors import ConflictError, InvalidValueError
from planner.models import CostStock, InjuryPhoto, Machine, QueueView, Tyre, TyreFollow, WorkOrder
from planner.services.queue_views import MOST_VIEWS, queue_view_keep
from planner.services.removal_assumptions import removal_assumption_set
from tests.lib.fleet import machine_add, readings_add
from tests.lib.mine import Mine, mine_equipped

pytestmark = pytest.mark.django_db
HEADING = "serial,size,zone,length mm,width mm,depth mm,plies,machine,needed by,demounted,note"


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    return mine_equipped()


@pytest.fixture
def planner(mine: Mine) -> Client:
    client = Client()
    client.force_login(mine.users["planner"])
    return client


def file_of(*lines: str) -> SimpleUploadedFile:
    return SimpleUploadedFile("damage.csv", "\n".join([HEADING, *lines]).encode())


def row(serial: str, **changed: str) -> str:
    day = (timezone.localdate() + timedelta(days=5)).isoformat()
    cells = {
        "size": "20.5 r 25", "zone": "Sidewall", "length": "120", "width": "80", "depth": "30", "plies": "",
        "machine": "", "needed": day, "demounted": "yes", "note": "",
    }  # fmt: skip
    return ",".join([serial, *(cells | changed).values()])


def carried(page: str) -> str:
    return page.partition('name="carried" value="')[2].partition('"')[0]


def test_a_file_is_previewed_then_registered_as_if_it_were_typed(mine: Mine, planner: Client) -> None:
    machine_add(mine, "L1", priority=55)
    page = planner.post(
        "/at/ridge/queue/register/file/", {"file": file_of(row("B1", machine="l1"), row("B2"))}
    )
    assert "2 tyres would stand in the queue" in page.content.decode()
    assert WorkOrder.objects.count() == Tyre.objects.count() == 0
    answer = planner.post(
        "/at/ridge/queue/register/file/",
        {"confirmed": "yes", "name": "damage.csv", "carried": carried(page.content.decode())},
    )
    assert answer.status_code == 302
    first, second = WorkOrder.objects.order_by("number")
    assert (first.tyre.size, first.priority, second.priority) == ("20.5R25", 55, 10)
    # A bare day means 18:00 on the site's clock: 10:00 in UTC at Perth.
    assert (first.needed_by.hour, first.damages.get().depth_mm) == (10, 30)
    assert TyreFollow.objects.filter(user=mine.users["planner"]).count() == 2


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"zone": "rim"}, "no zone; there are crown"),
        ({"depth": "deep"}, "no number"),
        ({"size": "thin"}, "thin"),
        ({"machine": "X9"}, "no machine X9"),
        ({"demounted": "no"}, "only a demounted"),
        ({"needed": "soon"}, "no day and time"),
        ({"length": "9999"}, "length mm"),
    ],
)
def test_a_faulty_row_is_named_and_nothing_is_kept(
    mine: Mine, planner: Client, changed: dict[str, str], words: str
) -> None:
    page = planner.post(
        "/at/ridge/queue/register/file/", {"file": file_of(row("B1"), row("B2", **changed))}
    ).content.decode()
    assert "1 fault" in page
    assert words in page
    assert carried(page) == ""
    assert WorkOrder.objects.count() == 0


def test_a_tyre_in_the_queue_already_and_a_doubled_row_are_faults(mine: Mine, planner: Client) -> None:
    mine.order("A1")
    files = file_of(row("A1"), row("B1"), row("B1"))
    page = planner.post("/at/ridge/queue/register/file/", {"file": files}).content.decode()
    assert "stands in the queue already" in page
    assert "the same serial as row 3" in page


def test_the_blank_workbook_filled_in_is_read(planner: Client) -> None:
    blank = planner.get("/at/ridge/queue/register/file/xlsx/").content
    book = load_workbook(io.BytesIO(blank))
    heading = [cell.value for cell in book.worksheets[0][1]]
    assert ",".join(str(name) for name in heading) == HEADING
    needed = timezone.now().replace(tzinfo=None) + timedelta(days=3)
    filled = Workbook()
    sheet = filled.worksheets[0]
    sheet.append(heading)
    sheet.append(["B7", "26.5-25", "crown", 90, 60, 25, 0, None, needed, "yes", None])
    out = io.BytesIO()
    filled.save(out)
    file = SimpleUploadedFile("damage.xlsx", out.getvalue())
    page = planner.post("/at/ridge/queue/register/file/", {"file": file}).content.decode()
    assert "1 tyre would stand in the queue" in page
    assert planner.get("/at/ridge/queue/register/file/csv/").content.decode("utf-8-sig").strip() == HEADING
    assert planner.get("/at/ridge/queue/register/file/doc/").status_code == 404


def test_a_photo_comes_in_with_the_damage_and_a_broken_one_keeps_nothing(mine: Mine, planner: Client) -> None:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "grey").save(out, "PNG")
    told = {
        "serial": "P1", "size_as_written": "20.5R25", "zone": "sidewall", "length_mm": "90", "width_mm": "60",
        "depth_mm": "20", "plies": "0", "demounted": "on",
        "needed_by": (timezone.now() + timedelta(days=3)).strftime("%Y-%m-%dT%H:%M"),
    }  # fmt: skip
    broken = planner.post(
        "/at/ridge/queue/register/", {**told, "photo": SimpleUploadedFile("p.png", b"no picture")}
    )
    assert broken.status_code == 200
    assert Tyre.objects.count() == 0
    planner.post("/at/ridge/queue/register/", {**told, "photo": SimpleUploadedFile("p.png", out.getvalue())})
    assert InjuryPhoto.objects.get().damage.work_order == WorkOrder.objects.get()


def test_a_view_is_kept_shown_replaced_and_removed_by_its_own_user(mine: Mine, planner: Client) -> None:
    mine.order("A1")
    told = {"name": "Small  ones", "size": "20.5", "sort": "priority", "search": ""}
    answer = planner.post("/at/ridge/queue/views/keep/", told)
    assert answer.headers["Location"] == "/at/ridge/queue/?size=20.5&sort=priority"
    assert 'aria-current="true">Small ones' in planner.get(answer.headers["Location"]).content.decode()
    planner.post("/at/ridge/queue/views/keep/", {**told, "size": "26.5"})
    view = QueueView.objects.get()
    assert view.wanted == {"size": "26.5", "sort": "priority"}
    other = Client()
    other.force_login(mine.supervisor)
    assert "Small ones" not in other.get("/at/ridge/queue/").content.decode()
    other.post(f"/at/ridge/queue/views/{view.pk}/remove/")
    assert QueueView.objects.count() == 1
    planner.post(f"/at/ridge/queue/views/{view.pk}/remove/")
    assert QueueView.objects.count() == 0


def test_views_have_names_and_an_end(mine: Mine) -> None:
    kept: dict[str, Any] = {"user": mine.supervisor, "site": mine.site, "wanted": {"zone": "bead"}}
    with pytest.raises(InvalidValueError, match="give the view a name"):
        queue_view_keep(name="  ", **kept)
    for number in range(MOST_VIEWS):
        queue_view_keep(name=str(number), **kept)
    with pytest.raises(ConflictError, match="remove one first"):
        queue_view_keep(name="one more", **kept)


def test_the_queue_costs_the_same_with_one_view_and_with_three(mine: Mine, planner: Client) -> None:
    counts = []
    for name in "abc":
        queue_view_keep(user=mine.users["planner"], site=mine.site, name=name, wanted={"zone": "bead"})
        with CaptureQueriesContext(connection) as queries:
            planner.get("/at/ridge/queue/")
        counts.append(len(queries))
    assert len(set(counts)) == 1


@pytest.mark.parametrize("words", ["wo-0001", "1", "KX-77", "kx"])
def test_finding_leads_straight_to_the_order_that_is_meant(mine: Mine, planner: Client, words: str) -> None:
    mine.order("KX-77")
    mine.order("B2", size="26.5R25")
    assert planner.get("/at/ridge/find/", {"q": words}).headers["Location"] == "/at/ridge/orders/1/"


def test_finding_several_lists_them_and_nothing_says_so(mine: Mine, planner: Client) -> None:
    counts = []
    for number in (1, 2, 3, 4):
        mine.order(f"KX-{number}")
        with CaptureQueriesContext(connection) as queries:
            page = planner.get("/at/ridge/find/", {"q": "20.5R25"})
        counts.append(len(queries))
    assert counts[1] == counts[3]
    assert page.content.decode().count("KX-") == 8  # four orders, four tyres
    assert "Nothing found" in planner.get("/at/ridge/find/", {"q": "no such"}).content.decode()
    assert planner.get("/at/ridge/find/").status_code == 200


def test_the_queue_on_paper_is_a_pdf_of_what_is_shown(mine: Mine, planner: Client) -> None:
    mine.order("A1")
    answer = planner.get("/at/ridge/queue/pdf/", {"size": "20.5"})
    assert (answer.status_code, answer.content[:5]) == (200, b"%PDF-")


def test_the_form_says_when_the_machines_want_one_more(mine: Mine, planner: Client) -> None:
    # Two positions that run 12 h a day on tyres that stay on for 240 h: 0.1 a day.
    machine = machine_add(mine, "L1", seats=2, hours_run=1000)
    Machine.objects.update(tyre_size="20.5R25")
    CostStock.objects.create(site=mine.site, size="20.5R25", on_hand=3)
    readings_add(mine, machine, 12)
    ask = {"size_as_written": "20.5-25"}
    assert "is not known" in planner.get("/at/ridge/queue/register/need/", ask).content.decode()
    ask = {"size_as_written": "", "machine": str(machine.pk)}
    mine_assumes(mine)
    page = planner.get("/at/ridge/queue/register/need/", ask).content.decode()
    # One spare beyond the two empty positions; the second removal comes within 5.3 days at odds of 1 in 10.
    day = timezone.localdate(timezone=ZoneInfo(mine.site.time_zone)) + timedelta(days=5)
    assert f'data-value="{day.isoformat()}T06:00"' in page
    assert planner.get("/at/ridge/queue/register/need/", {"size_as_written": "thin"}).content.strip() == b""


def mine_assumes(mine: Mine) -> None:
    removal_assumption_set(
        user=mine.supervisor, site=mine.site, size_as_written="20.5R25", hours=240, reason="for the test"
    )
