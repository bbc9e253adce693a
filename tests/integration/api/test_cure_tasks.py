"""A cure over the API: its log looked at and kept, a photo, material taken, inspected, signed."""

import base64
import hashlib
import io
from datetime import date

import pytest
from PIL import Image

from planner.models import CureLogUpload, LoggedCure
from tests.integration.cure_site import CureSite
from tests.lib.api import Caller, caller, told

LOG = "minute,inside,outside,pressure\n" + "".join(
    f"{minute},{min(140, 60 + 2 * minute)},{min(139, 59 + 2 * minute)},207\n" for minute in range(0, 240, 2)
)


@pytest.fixture
def bay(db: None) -> CureSite:
    """A site with one injured tyre."""
    return CureSite()


@pytest.fixture
def technician(bay: CureSite) -> Caller:
    """Who works on it."""
    return caller(bay.technician)


@pytest.fixture
def injury(bay: CureSite) -> str:
    """The address of the injury."""
    return f"sites/north/tyres/{bay.damage.tyre_id}/damage/{bay.damage.pk}/"


def sent(raw: bytes) -> str:
    return base64.b64encode(raw).decode()


def test_a_log_is_looked_at_and_the_very_bytes_are_kept(technician: Caller, injury: str) -> None:
    file = {"file_name": "cure.csv", "content": sent(LOG.encode())}
    put = technician.post(f"{injury}cure-uploads/", file, idempotency_key="log-1")
    assert put.status_code == 201, told(put)
    assert told(put)["column_names"] == ["minute", "inside", "outside", "pressure"]
    assert told(put)["columns"]["time_kind"] == "elapsed_minutes"
    assert told(put)["fault"] == ""
    assert told(put)["judgement"]["verdict"]
    path = f"sites/north/cure-uploads/{told(put)['id']}/"
    columns = {
        "time": "minute", "time_kind": "elapsed_minutes", "inside": "outside", "outside": "inside",
        "temperature_unit": "celsius", "pressure": "pressure", "pressure_unit": "kpa",
    }  # fmt: skip
    swapped = technician.patch(path, columns, if_match=put["ETag"])
    assert told(swapped)["columns"]["inside"] == "outside"
    assert technician.post(f"{path}keep/", None, if_match=put["ETag"]).status_code == 412
    kept = technician.post(f"{path}keep/", None, if_match=swapped["ETag"])
    assert (kept.status_code, told(kept)["file_sha256"]) == (201, hashlib.sha256(LOG.encode()).hexdigest())
    file_again = technician.get(f"{injury}cures/{told(kept)['id']}/file/")
    assert (file_again.content, file_again["X-Content-Type-Options"]) == (LOG.encode(), "nosniff")
    assert file_again["Content-Disposition"].startswith("attachment")
    assert technician.post(f"{injury}cure-uploads/", file).status_code == 409


def test_columns_that_do_not_fit_are_told_and_the_file_is_put_away(technician: Caller, injury: str) -> None:
    put = technician.post(
        f"{injury}cure-uploads/", {"file_name": "x.csv", "content": sent(b"a,b,c\nx,y,z\n")}
    )
    assert (told(put)["judgement"], bool(told(put)["fault"])) == (None, True)
    path = f"sites/north/cure-uploads/{told(put)['id']}/"
    assert technician.send("DELETE", path, None, if_match=put["ETag"]).status_code == 204
    assert not CureLogUpload.objects.exists() and not LoggedCure.objects.exists()


def test_typed_readings_are_judged_and_a_bad_line_is_named(technician: Caller, injury: str) -> None:
    lines = "0 60 59 207\n30 121 120 207\n90 140 139 207"
    assert (
        told(technician.post(f"{injury}cure-readings/", {"readings": lines}))["file_name"] == "typed readings"
    )
    bad = technician.post(f"{injury}cure-readings/", {"readings": "0 60 59 207\nabout noon"})
    assert (bad.status_code, "line 2" in told(bad)["detail"]) == (422, True)


@pytest.mark.parametrize("content", ["not base64!", "", "====", "QQ"])
def test_what_is_no_base64_is_refused(technician: Caller, injury: str, content: str) -> None:
    refused = technician.post(f"{injury}cure-uploads/", {"file_name": "x.csv", "content": content})
    assert (refused.status_code, told(refused)["faults"][0]["place"]) == (422, "content")


def test_a_photo_is_kept_and_given_as_an_attachment(technician: Caller, injury: str) -> None:
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "grey").save(picture, "PNG")
    photo = technician.post(f"{injury}photos/", {"words": "the cut", "content": sent(picture.getvalue())})
    assert (told(photo)["width_px"], told(photo)["height_px"]) == (40, 30)
    listed = told(technician.get(f"{injury}photos/"))["results"]
    jpeg = technician.get(f"sites/north/photos/{listed[0]['id']}/jpeg/")
    assert hashlib.sha256(jpeg.content).hexdigest() == told(photo)["sha256"]
    assert jpeg["Content-Disposition"].startswith("attachment")


def test_material_energy_and_trips_are_on_record(bay: CureSite, technician: Caller) -> None:
    lot = bay.lot("L1", date(2099, 1, 1))
    order = "sites/north/work-orders/1/"
    taken = technician.post(f"{order}materials/", {"lot": lot.pk, "quantity": "2.5"})
    assert (taken.status_code, told(taken)["quantity"]) == (201, "2.500")
    assert technician.post(f"{order}materials/", {"lot": lot.pk, "quantity": "8"}).status_code == 422
    meter = technician.post(f"{order}meter-readings/", {"before": "100", "after": "118.5"})
    assert told(meter)["quantity"] == "18.5000"
    assert technician.post(f"{order}meter-readings/", {"before": "2", "after": "1"}).status_code == 422
    technician.post(f"{order}counts/", {"kind": "transport", "quantity": 2})
    uses = told(technician.get(f"{order}uses/"))["results"]
    assert sorted((use["kind"], use["quantity"]) for use in uses) == [
        ("energy", "18.5000"), ("materials", "2.5000"), ("transport", "2.0000"),
    ]  # fmt: skip
    stock = told(technician.get("sites/north/material-stock/"))["results"][0]
    assert (stock["usable"], stock["lots"][0]["left"]) == ("7.500", "7.500")


def test_a_record_is_signed_as_it_was_read(bay: CureSite) -> None:
    supervisor, path = caller(bay.supervisor), "sites/north/work-orders/1/record/"
    draft = supervisor.get(f"{path}?version=0")
    assert told(draft)["lacks"] == ["nobody has inspected the repair yet"]
    seen = {"released": False, "found": "cords cut through"}
    assert supervisor.post("sites/north/work-orders/1/inspections/", seen).status_code == 201
    stale = supervisor.post(f"{path}signatures/", {}, if_match=draft["ETag"])
    assert stale.status_code == 412
    draft = supervisor.get(f"{path}?version=0")
    signed = supervisor.post(f"{path}signatures/", {}, if_match=draft["ETag"])
    assert (signed.status_code, told(signed)["version"]) == (201, 1)
    again = supervisor.post(f"{path}signatures/", {"reason": "typing"}, if_match="*")
    assert (again.status_code, "nothing on file changed" in told(again)["detail"]) == (422, True)
    assert told(supervisor.get(path))["versions"][0]["signed_by"] == bay.supervisor.username


def test_the_charts_minutes_of_an_order_are_told(bay: CureSite, technician: Caller) -> None:
    cure = told(technician.get("sites/north/work-orders/1/cures/"))["results"][0]
    assert (cure["job"], cure["provisional"]) == ("WO-0001", True)


def test_gauges_are_read_one_by_one_in_their_own_units(technician: Caller, injury: str) -> None:
    """248 °F is 120 °C and 30 psi 206.8 kPa; the same reading sent twice is one."""
    reading = {
        "taken_at": "2026-08-03T04:00:00Z", "inside": 248, "pressure": 30, "temperature_unit": "°F",
        "pressure_unit": "psi",
    }  # fmt: skip
    for key in ("reading-1", "reading-2"):
        sent_one = technician.post(f"{injury}gauge-readings/", reading, idempotency_key=key)
        assert sent_one.status_code == 201, told(sent_one)
    (row,) = told(technician.get(f"{injury}gauge-readings/"))["results"]
    assert (row["inside_c"], row["outside_c"], round(row["pressure_kpa"], 1)) == (120, None, 206.8)
    assert (row["as_typed"], row["recorded_by"]) == ("inside 248 °F, bags 30 psi", "tess")
    hot = technician.post(f"{injury}gauge-readings/", {"inside": 284, "taken_at": "2026-08-03T04:15:00Z"})
    assert (hot.status_code, "read as °C" in told(hot)["detail"]) == (422, True)


def test_a_slip_is_corrected_beside_it_and_what_holds_is_judged(technician: Caller, injury: str) -> None:
    readings = f"{injury}gauge-readings/"
    early = technician.post(f"{readings}judge/")
    assert (early.status_code, "0 readings hold" in told(early)["detail"]) == (422, True)
    for minute in range(0, 60, 10):
        figures = {"inside": 140, "outside": 139, "pressure": 207}
        technician.post(readings, {**figures, "taken_at": f"2026-08-03T04:{minute:02}:00Z"})
    rows = told(technician.get(readings))["results"]
    wrong = f"sites/north/gauge-readings/{rows[1]['id']}/"
    right = {"inside": 104, "outside": 139, "pressure": 207, "reason": "digits turned"}
    assert technician.post(f"{wrong}corrections/", right).status_code == 428
    tag = technician.get(wrong)["ETag"]
    corrected = technician.post(f"{wrong}corrections/", right, if_match=tag)
    assert (corrected.status_code, told(corrected)["corrects"]) == (201, rows[1]["id"])
    assert technician.post(f"{wrong}corrections/", right, if_match=tag).status_code == 409
    last = f"sites/north/gauge-readings/{rows[5]['id']}/"
    gone = technician.post(
        f"{last}corrections/",
        {"withdraw": True, "reason": "another tyre"},
        if_match=technician.get(last)["ETag"],
    )
    assert (gone.status_code, told(gone)["as_typed"]) == (201, "")
    no_figure = technician.post(
        f"sites/north/gauge-readings/{rows[0]['id']}/corrections/", {"reason": "?"}, if_match="*"
    )
    assert (no_figure.status_code, "needs a pad's temperature" in told(no_figure)["detail"]) == (422, True)
    held = told(technician.get(readings))["results"]
    assert [row["inside_c"] for row in held] == [140, 104, 140, 140, 140]
    judged = technician.post(f"{readings}judge/", idempotency_key="judge-1")
    assert (judged.status_code, told(judged)["file_name"]) == (201, "readings taken by hand")
    assert technician.post(f"{readings}judge/", idempotency_key="judge-1")["Idempotency-Replayed"] == "true"
