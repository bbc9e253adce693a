"""Record, cure and materials pages at the rim: who sees what, and what a photo is served as."""

import io
import re
from collections.abc import Callable
from datetime import date
from zoneinfo import ZoneInfo

import pytest
from django.test import Client
from django.utils import timezone
from PIL import Image

from planner.models import InjuryPhoto, LoggedCure, Site, User

PERTH = ZoneInfo("Australia/Perth")


@pytest.fixture
def supervisor(demo_loaded: Callable[[date], None]) -> Client:
    demo_loaded(timezone.localdate(timezone=PERTH))
    client = Client()
    client.force_login(User.objects.get(username="silas"))
    return client


def test_the_record_is_paper_with_its_photo_inside(supervisor: Client) -> None:
    order = LoggedCure.objects.get().damage.work_order
    assert order is not None
    answer = supervisor.get(f"/at/halfmoon/orders/{order.number}/record/pdf/")
    assert answer["Content-Type"] == "application/pdf"
    assert b"/DCTDecode" in answer.content  # the JPEG itself
    assert 'filename="record-' in answer["Content-Disposition"]


def test_who_reads_fahrenheit_and_psi_sees_them_beside_what_was_signed(supervisor: Client) -> None:
    order = LoggedCure.objects.get().damage.work_order
    assert order is not None
    address = f"/at/halfmoon/orders/{order.number}/record/"
    signed = supervisor.get(address).content.decode()
    figures = set(re.findall(r"\d+(?:\.\d+)? (?:°C|kPa)", signed))
    assert figures
    assert "°F" not in signed
    supervisor.post("/account/reading/", {"temperature_unit": "°F", "pressure_unit": "psi", "language": ""})
    beside = supervisor.get(address).content.decode()
    assert figures <= set(re.findall(r"\d+(?:\.\d+)? (?:°C|kPa)", beside))
    assert "120 °C (248 °F)" in beside  # 120 × 1.8 + 32
    assert "psi" in beside
    materials = supervisor.get("/at/halfmoon/site/material/")
    assert materials.status_code == 403 or "°F" in materials.content.decode()


def test_a_photo_is_an_attachment_that_no_browser_runs_and_other_sites_never_see(supervisor: Client) -> None:
    photo = InjuryPhoto.objects.get()
    answer = supervisor.get(f"/at/halfmoon/photos/{photo.pk}/")
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Disposition"].startswith("attachment")
    assert Image.open(io.BytesIO(answer.content)).format == "JPEG"
    stranger = Client()
    stranger.force_login(User.objects.get(username="joel"))
    assert stranger.get(f"/at/halfmoon/photos/{photo.pk}/").status_code == 404
    assert stranger.get(f"/at/cardon/photos/{photo.pk}/").status_code == 404
    assert Client().get(f"/at/halfmoon/photos/{photo.pk}/").status_code == 302


def test_a_delivery_is_put_on_file_by_the_supervisor(supervisor: Client) -> None:
    site = Site.objects.get(code="halfmoon")
    material = LoggedCure.objects.get().damage.work_order
    assert material is not None
    chosen = material.material_uses.first()
    assert chosen is not None
    told = {
        "material": chosen.lot.material_id,
        "code": "F2-0999",
        "expires_on": "2099-01-31",
        "quantity": "20",
    }
    assert supervisor.post("/at/halfmoon/materials/receive/", told).status_code == 302
    assert b"F2-0999" in supervisor.get("/at/halfmoon/materials/").content
    technician = Client()
    technician.force_login(User.objects.get(username="tove"))
    assert technician.post("/at/halfmoon/materials/receive/", told).status_code == 403
    assert site.code == "halfmoon"
