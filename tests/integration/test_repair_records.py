"""Uploads, photos, inspections and the record that never changes."""

import io
from datetime import date
from decimal import Decimal

import pytest
from PIL import Image

from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError, NotFoundError
from planner.models import CureChartLine, CureLimitRow, CureLogUpload, InjuryPhoto, LoggedCure, RecordVersion
from planner.selectors.repair_records import photo_get, repair_record_get
from planner.services.audit import audit_chain_faults
from planner.services.cure_hand_logs import cure_readings_upload
from planner.services.cure_log_uploads import (
    columns_of,
    cure_log_upload_add,
    upload_columns_set,
    upload_keep,
    upload_look,
)
from planner.services.injury_photos import injury_photo_add
from planner.services.inspections import inspection_record
from planner.services.logged_cures import cure_decision_sign
from planner.services.materials import material_use_record
from planner.services.repair_records import record_correct, record_sign
from tests.integration.cure_site import CureSite
from tests.lib.cure_logs import readings, rows

pytestmark = pytest.mark.django_db
COLUMNS = {
    "time": "Time", "inside": "In", "outside": "Out", "pressure": "Bag", "time_kind": "clock",
    "temperature_unit": "celsius", "pressure_unit": "psi",
}  # fmt: skip


@pytest.fixture
def bay() -> CureSite:
    """Its sheet takes the release temperature at the inside face."""
    bay = CureSite()
    CureLimitRow.objects.create(
        site=bay.site, limit="release_c", value=100, place="inside_face", source="bay sheet 4"
    )
    return bay


def log_file() -> bytes:
    lines = [",".join(map(str, row.values())) for row in rows(*readings())]
    return "\n".join(["Time,In,Out,Bag", *lines]).encode()


def uploaded(bay: CureSite) -> CureLogUpload:
    upload = cure_log_upload_add(
        user=bay.technician, damage=bay.damage, raw=log_file(), name="a.csv", logger="a"
    )
    upload_columns_set(upload=upload, columns=columns_of(COLUMNS))
    return upload


def picture(width: int = 64, height: int = 32, kind: str = "JPEG") -> bytes:
    written = io.BytesIO()
    exif = Image.Exif()
    exif[0x010F] = "Invented Camera"
    exif[0x0112] = 6  # turned by a quarter
    exif.get_ifd(0x8825)[1] = "S"
    Image.new("RGB", (width, height), (200, 30, 30)).save(written, format=kind, exif=exif)
    return written.getvalue()


def test_a_look_keeps_nothing_and_judges_by_the_chart(bay: CureSite) -> None:
    """40 mm: the chart says 90 min; the log holds 120 °C or more for longer than that."""
    words, trace = upload_look(upload=uploaded(bay))
    assert words["verdict"] == "within_plan"
    assert trace.plan["timed_min"] == 90
    assert [event.words for event in trace.events] == [
        "the log begins at 2026-08-03 08:00 by its own clock", "timer starts", "pads off", "pressure let go",
    ]  # fmt: skip
    assert not LoggedCure.objects.exists()


def test_what_was_looked_at_is_what_is_kept_and_only_once(bay: CureSite) -> None:
    logged = upload_keep(user=bay.technician, upload=uploaded(bay))
    assert bytes(LoggedCure.objects.get(pk=logged.pk).file_raw) == log_file()
    assert not CureLogUpload.objects.exists()
    with pytest.raises(ConflictError, match="nothing was changed"):
        uploaded(bay)
    assert LoggedCure.objects.count() == 1


def test_a_loggers_columns_come_back_with_its_next_file(bay: CureSite) -> None:
    upload_keep(user=bay.technician, upload=uploaded(bay))
    following = cure_log_upload_add(
        user=bay.technician, damage=bay.damage, raw=log_file() + b"\n", name="b.csv", logger="a"
    )
    assert following.columns is not None
    assert (following.columns["pressure_unit"], following.columns["inside"]) == ("psi", "In")


def test_columns_of_a_new_logger_are_guessed_by_their_names(bay: CureSite) -> None:
    raw = b"Elapsed min,Outer F,Inner F,Bag psi\n0,140,141,30\n1,142,143,30\n2,144,145,30\n"
    columns = cure_log_upload_add(user=bay.technician, damage=bay.damage, raw=raw, name="f.csv").columns
    assert columns == {
        "time": "Elapsed min", "inside": "Inner F", "outside": "Outer F", "pressure": ["Bag psi"],
        "date": None, "time_kind": "elapsed_minutes", "time_zone": None, "temperature_unit": "fahrenheit",
        "pressure_unit": "psi",
    }  # fmt: skip


def test_typed_readings_are_a_log_and_a_bad_line_is_named(bay: CureSite) -> None:
    typed = "\n".join(f"{minute} {60 + minute} {61 + minute} 207" for minute in range(0, 60, 5))
    upload = cure_readings_upload(user=bay.technician, damage=bay.damage, readings=typed)
    words, _trace = upload_look(upload=upload)
    assert words["verdict"] != "within_plan"
    with pytest.raises(InvalidValueError, match="line 2, '5 hot'"):
        cure_readings_upload(user=bay.technician, damage=bay.damage, readings="0 60 60 207\n5 hot\n")


def test_a_photo_keeps_its_picture_and_nothing_else(bay: CureSite) -> None:
    photo = injury_photo_add(user=bay.technician, damage=bay.damage, raw=picture(), words="the cut")
    with Image.open(io.BytesIO(bytes(InjuryPhoto.objects.get().jpeg))) as kept:
        assert (kept.format, kept.size, dict(kept.getexif())) == ("JPEG", (32, 64), {})
    assert b"Invented" not in bytes(photo.jpeg)
    with pytest.raises(NotFoundError):
        photo_get(user=bay.technician, site=bay.site, photo_id=photo.pk + 1)


@pytest.mark.parametrize(
    "raw", [b"", b"<svg onload=alert(1)>", b"\xff\xd8\xff\xe0 cut off", picture(kind="JPEG")[:90]]
)
def test_what_is_no_photo_is_refused(bay: CureSite, raw: bytes) -> None:
    with pytest.raises(InvalidValueError, match="no photo that can be read"):
        injury_photo_add(user=bay.technician, damage=bay.damage, raw=raw, words="the cut")


def test_a_record_needs_decision_and_inspection(bay: CureSite) -> None:
    upload_keep(user=bay.technician, upload=uploaded(bay))
    with pytest.raises(
        InvalidValueError, match=r"a\.csv waits for a person's decision; nobody has inspected"
    ):
        record_sign(user=bay.supervisor, work_order=bay.order)
    assert not RecordVersion.objects.exists()


def signed(bay: CureSite) -> RecordVersion:
    logged = upload_keep(user=bay.technician, upload=uploaded(bay))
    cure_decision_sign(user=bay.supervisor, logged_cure=logged, accepted=True, reason="within plan")
    material_use_record(
        user=bay.technician,
        lot=bay.lot("L1", date(2099, 1, 1)),
        work_order=bay.order,
        quantity=Decimal("1.5"),
    )
    inspection_record(user=bay.supervisor, work_order=bay.order, released=True, found="no blister")
    return record_sign(user=bay.supervisor, work_order=bay.order)


def test_a_signed_record_holds_the_proof(bay: CureSite) -> None:
    content = signed(bay).content
    assert content["tyre"]["serial"] == "N1"
    (use,) = content["materials"]
    assert (use["lot"], use["expires_on"], use["quantity"], use["unit"]) == ("L1", "2099-01-01", "1.5", "kg")
    (log,) = content["logs"]
    assert (log["verdict"], log["decisions"][0]["reason"]) == ("within_plan", "within plan")
    assert content["inspections"][0]["found"] == "no blister"
    assert audit_chain_faults(site=bay.site) == ()


def test_a_signed_record_cannot_be_changed_or_removed(bay: CureSite) -> None:
    version = signed(bay)
    version.reason = "rewritten"
    with pytest.raises(ConflictError, match="never changes"):
        version.save()
    with pytest.raises(ConflictError, match="never removed"):
        version.delete()
    with pytest.raises(ConflictError):
        RecordVersion.objects.filter(pk=version.pk).update(reason="rewritten")
    with pytest.raises(ConflictError):
        RecordVersion.objects.all().delete()


def test_a_correction_adds_a_version_and_the_first_stays(bay: CureSite) -> None:
    first = signed(bay)
    with pytest.raises(InvalidValueError, match="nothing on file changed"):
        record_correct(user=bay.supervisor, work_order=bay.order, reason="a slip")
    inspection_record(user=bay.supervisor, work_order=bay.order, released=False, found="a blister after all")
    record = repair_record_get(user=bay.technician, order=bay.order)
    assert (record.version, record.outdated) == (first, True)
    record_correct(user=bay.supervisor, work_order=bay.order, reason="blister found on the second look")
    last = repair_record_get(user=bay.technician, order=bay.order)
    assert (last.version.number if last.version else 0, last.outdated) == (2, False)
    old = repair_record_get(user=bay.technician, order=bay.order, number=1)
    assert [each["released"] for each in old.content["inspections"]] == [True]
    with pytest.raises(ConflictError, match="signed already"):
        record_sign(user=bay.supervisor, work_order=bay.order)


def test_only_a_supervisor_inspects_and_signs(bay: CureSite) -> None:
    with pytest.raises(NotAllowedError):
        inspection_record(user=bay.technician, work_order=bay.order, released=True, found="fine")
    with pytest.raises(NotAllowedError):
        record_sign(user=bay.technician, work_order=bay.order)


def test_a_chart_that_changes_later_does_not_outdate_a_signed_record(bay: CureSite) -> None:
    logged = upload_keep(user=bay.technician, upload=uploaded(bay))
    cure_decision_sign(user=bay.supervisor, logged_cure=logged, accepted=True, reason="within plan")
    inspection_record(user=bay.supervisor, work_order=bay.order, released=True, found="no blister")
    record_sign(user=bay.supervisor, work_order=bay.order)
    CureChartLine.objects.update(timed_min=140)
    assert not repair_record_get(user=bay.technician, order=bay.order).outdated
    cure_decision_sign(user=bay.supervisor, logged_cure=logged, accepted=False, reason="blister found")
    assert repair_record_get(user=bay.technician, order=bay.order).outdated


def test_a_sheet_of_readings_may_be_in_the_units_of_its_gauges(bay: CureSite) -> None:
    """248 °F is 120 °C, 284 °F 140 °C; 30 psi is 206.8 kPa."""
    typed = "0 140 140 30\n30 248 248 30\n45 284 284 30\n"
    upload = cure_readings_upload(
        user=bay.technician, damage=bay.damage, readings=typed, temperature_unit="°F", pressure_unit="psi"
    )
    _words, trace = upload_look(upload=upload)
    assert [each for each in trace.inside_c if each is not None] == [60.0, 120.0, 140.0]
    assert trace.pressure_kpa[0] == pytest.approx(206.84, abs=0.01)
