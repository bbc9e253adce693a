"""A finished cure: its log looked at and judged, a decision signed, the record on paper; and the store."""

import shutil
import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from planner.models import CureDecision, LoggedCure, RecordVersion, WorkOrder
from tests.functional.conftest import Demo, Shown, SignIn
from tests.lib.browser import ARTEFACTS

LOG = Path(__file__).resolve().parents[2] / "fixtures" / "demo_site" / "cure_log.csv"


def to_fahrenheit(line: str) -> str:
    minute, inside, outside, bags = line.split(",")
    return f"{minute},{float(inside) * 1.8 + 32:.1f},{float(outside) * 1.8 + 32:.1f},{bags}"


def test_a_log_is_judged_before_it_is_kept(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown, tmp_path: Path
) -> None:
    """The logger writes °F, which the technician sees by the verdict and sets right before it is kept."""
    order = WorkOrder.objects.get(site=demo.site, tyre__serial="HT-2701")
    lines = LOG.read_text().splitlines()
    file = tmp_path / "bay-logger.csv"
    file.write_text("\n".join([lines[0], *map(to_fahrenheit, lines[1:])]))
    page = sign_in(demo.users["tove"])
    page.goto(f"{live_server.url}/at/halfmoon/orders/{order.number}/cures/")
    shown("cure-empty")
    page.get_by_label("File").set_input_files(file)
    page.get_by_label("Logger").fill("Logger in F")
    page.get_by_role("button", name="Look at it").click()
    expect(page.get_by_text("°F labelled °C?").first).to_be_visible()
    page.get_by_label("Temperatures in").select_option("fahrenheit")
    page.get_by_role("button", name="Read it this way").click()
    expect(page.get_by_text("°F labelled °C?")).to_be_hidden()
    expect(page.get_by_text("no readings for 13 min").first).to_be_visible()
    shown("cure-look")
    assert not LoggedCure.objects.filter(damage__work_order=order).exists()
    page.get_by_role("button", name="Keep it with this verdict").click()
    expect(page.get_by_text("The log is on file with its verdict")).to_be_visible()
    expect(page.get_by_role("button", name="Sign the decision")).to_be_hidden()
    assert LoggedCure.objects.filter(damage__work_order=order).count() == 1


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs pdftotext: install poppler-utils")
def test_the_supervisor_decides_and_the_record_is_read_back_from_paper(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    kept = LoggedCure.objects.get()
    number = kept.damage.work_order.number if kept.damage.work_order else 0
    page = sign_in(demo.users["silas"])
    page.goto(f"{live_server.url}/at/halfmoon/orders/{number}/cures/")
    page.get_by_label("The cure is rejected").check()
    page.get_by_label("Reason").fill("blister at the edge after all")
    page.get_by_role("button", name="Sign the decision").click()
    expect(page.get_by_text("blister at the edge after all")).to_be_visible()
    shown("cure-decided")
    assert CureDecision.objects.filter(logged_cure=kept).count() == 2
    page.get_by_role("link", name="The record").click()
    expect(page.get_by_text("Something on file changed since this was signed")).to_be_visible()
    page.get_by_label("Rejected").check()
    page.get_by_label("What you looked at and found").fill("blister of 30 mm at the lower edge")
    page.get_by_role("button", name="Record my inspection").click()
    page.get_by_label("Why it is corrected").fill("second look at the edge")
    page.get_by_role("button", name="Sign the correction").click()
    expect(page.get_by_text("Version 2 is signed")).to_be_visible()
    shown("record")
    assert RecordVersion.objects.count() == 2
    answer = page.request.get(f"{live_server.url}/at/halfmoon/orders/{number}/record/pdf/?version=2")
    assert answer.headers["content-type"] == "application/pdf"
    words = paper(answer.body())
    for each in (
        "HT-P01", "F2-0417", "blister at the edge after all", "no readings for 13 min",
        "second look at the edge", "Cool under pressure", "REJECTED", "blister of 30 mm",
        "never certifies a repair", "needs a person's decision", "outside pad, °C",
    ):  # fmt: skip
        assert each in words, each


def paper(body: bytes) -> str:
    """The words of a PDF with single spaces; the file is kept to be looked at."""
    ARTEFACTS.mkdir(exist_ok=True)
    path = ARTEFACTS / "record.pdf"
    path.write_bytes(body)
    read = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True)
    return " ".join(read.stdout.split())


def test_a_measured_depth_tells_what_it_did_to_the_plan(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    plan = demo.published()
    order = WorkOrder.objects.get(site=demo.site, tyre__serial="HT-2701")
    assert f'"{order.code}"' in plan.plan_json
    page = sign_in(demo.users["tove"])
    page.goto(f"{live_server.url}/at/halfmoon/orders/{order.number}/")
    expect(page.get_by_text("provisional").first).to_be_visible()
    page.get_by_text("Measure after skiving").click()
    page.get_by_label("Depth (mm)").fill("88")
    page.get_by_role("button", name="Record the measured size").click()
    expect(page.get_by_text("The published plan no longer holds")).to_be_visible()
    expect(page.get_by_text("firm", exact=True)).to_be_visible()
    shown("cure-order")


def test_the_store_warns_and_gives_no_expired_lot(
    demo: Demo, live_server: LiveServer, sign_in: SignIn, shown: Shown
) -> None:
    page = sign_in(demo.users["tove"])
    page.goto(f"{live_server.url}/at/halfmoon/materials/")
    expect(page.get_by_text("C1-0311").first).to_be_visible()
    offered = page.get_by_label("Lot").locator("option").all_inner_texts()
    assert offered
    assert not any("C1-0311" in each for each in offered)
    page.get_by_label("Quantity").fill("1.5")
    page.get_by_role("button", name="Record it").click()
    expect(page.get_by_text("Recorded: 1.5 l of lot V1-077")).to_be_visible()
    shown("materials")
