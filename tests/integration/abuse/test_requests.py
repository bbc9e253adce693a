"""Requests that mean harm: forged hosts and origins, ways out of a folder, formulas in cells, open doors."""

import csv
import io
from datetime import UTC, datetime
from typing import Any

import pytest
from django.contrib.auth.hashers import MD5PasswordHasher
from django.http import HttpResponse
from django.test import Client, override_settings
from django.urls import reverse
from openpyxl import load_workbook

from planner.domain.permissions import Role
from planner.models import CostRepair, InjuryPhoto, Tyre, User
from planner.selectors.accounts.spreadsheet import cell_text
from tests.lib.api import caller
from tests.lib.books import Books, books
from tests.lib.mine import Mine, mine_equipped

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine() -> Mine:
    """The site `ridge`."""
    return mine_equipped()


def signed_in(user: User, **options: Any) -> Client:
    client = Client(**options)
    client.force_login(user)
    return client


@pytest.mark.parametrize(
    "host", ["evil.example", "localhost.evil.example", "127.0.0.1@evil.example", "", "a b"]
)
def test_a_host_that_is_not_ours_is_not_answered(mine: Mine, host: str) -> None:
    with override_settings(ALLOWED_HOSTS=["127.0.0.1"]):
        assert signed_in(mine.supervisor).get("/at/ridge/queue/", HTTP_HOST=host).status_code == 400


def test_a_forwarded_host_or_scheme_is_not_believed(mine: Mine) -> None:
    client = signed_in(mine.supervisor)
    forged = {"HTTP_X_FORWARDED_HOST": "evil.example", "HTTP_X_FORWARDED_PROTO": "https"}
    page = client.get("/api/v1/sites/ridge/tyres/?page_size=1", **forged)
    assert b"evil.example" not in page.content


@pytest.mark.parametrize(
    "path",
    [
        "../manage.py", "..%2fmanage.py", "%2e%2e/%2e%2e/etc/passwd", "..\\manage.py",
        "tyrewright/../../../manage.py",
        "//etc/passwd", ".git/config", "%00", "tyrewright/%2e%2e/%2e%2e/config/settings/base.py",
    ],
)  # fmt: skip
def test_there_is_no_way_out_of_the_folder_of_static_files(path: str) -> None:
    answer = Client().get(f"/static/{path}")
    assert answer.status_code == (400 if "%00" in path else 404)
    assert b"SECRET" not in answer.content and b"root:" not in answer.content


@pytest.mark.parametrize(
    "address", ["/media/", "/.git/config", "/manage.py", "/planner/", "/.secrets/secret_key"]
)
def test_nothing_else_on_the_disk_has_an_address(address: str) -> None:
    assert Client().get(address).status_code == 404


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\0", "\n"])
def test_no_text_is_taken_for_a_formula(start: str) -> None:
    assert cell_text(f"{start}cmd|' /C calc'!A0").startswith("'")


def test_an_export_holds_no_formula_that_somebody_typed() -> None:
    kept: Books = books()
    Tyre.objects.update(serial="=HYPERLINK(A1)")
    order = kept.order
    CostRepair.objects.create(
        site=kept.site, work_order=order, month=datetime.now(tz=UTC).date().replace(day=1)
    )
    accountant = signed_in(kept.people[Role.ACCOUNTANT])
    text = accountant.get(reverse("accounts_export", args=[kept.site.code, "csv"])).content.decode(
        "utf-8-sig"
    )
    assert next(row[1] for row in csv.reader(io.StringIO(text)) if "HYPER" in row[1]) == "'=HYPERLINK(A1)"
    raw = accountant.get(reverse("accounts_export", args=[kept.site.code, "xlsx"])).content
    cell = load_workbook(io.BytesIO(raw)).worksheets[0]["B2"]
    assert (cell.data_type, cell.value) == ("s", "'=HYPERLINK(A1)")


def test_an_upload_is_given_back_for_saving_only(mine: Mine) -> None:
    damage = mine.damage(mine.order("T-1").tyre)
    photo = InjuryPhoto.objects.create(
        site=mine.site, damage=damage, words="x", jpeg=b"<script>alert(1)</script>", sha256="0", width_px=1,
        height_px=1, added_at=damage.noted_at, added_by=mine.supervisor,
    )  # fmt: skip
    for address in (f"/at/ridge/photos/{photo.pk}/", f"/api/v1/sites/ridge/photos/{photo.pk}/jpeg/"):
        answer = signed_in(mine.supervisor).get(address)
        assert answer["Content-Type"] == "image/jpeg"
        assert answer["Content-Disposition"].startswith("attachment; filename=")
        assert answer["X-Content-Type-Options"] == "nosniff"
        assert "sandbox" in answer["Content-Security-Policy"]


def test_a_form_from_elsewhere_changes_nothing(mine: Mine) -> None:
    client = signed_in(mine.supervisor, enforce_csrf_checks=True)
    mine.order("T-1")
    for address in ("/at/ridge/orders/1/decide/reject/", "/sign-out/", "/account/"):
        assert client.post(address, {"why": "x"}, HTTP_ORIGIN="https://evil.example").status_code == 403
    assert client.post("/api/v1/sites/ridge/tyres/", "{}", content_type="text/plain").status_code in (
        403,
        415,
    )


def test_no_origin_is_told_that_it_may_read(mine: Mine) -> None:
    answer = signed_in(mine.supervisor).get("/api/v1/sites/ridge/", HTTP_ORIGIN="https://evil.example")
    assert "Access-Control-Allow-Origin" not in answer


ANSWERS = {
    "sign-in": "/sign-in/", "page": "/at/ridge/queue/", "api": "/api/v1/sites/ridge/", "refused": "/at/none/",
    "not there": "/nothing", "api not there": "/api/v1/nothing", "healthz": "/healthz",
    "docs": "/api/v1/docs/",
}  # fmt: skip


@pytest.mark.parametrize("kind", ANSWERS)
def test_every_answer_carries_the_policies_of_a_browser(mine: Mine, kind: str) -> None:
    client = Client() if kind == "sign-in" else signed_in(mine.supervisor)
    answer: HttpResponse = client.get(ANSWERS[kind])  # type: ignore[assignment]
    policy = answer["Content-Security-Policy"]
    for directive in ("default-src 'self'", "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"):
        assert directive in policy
    assert "unsafe" not in policy
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["Referrer-Policy"] == "same-origin"
    assert answer["Cross-Origin-Opener-Policy"] == "same-origin"
    assert "no-store" in answer["Cache-Control"]
    assert "Server" not in answer and "X-Powered-By" not in answer


def test_cookies_are_for_this_site_and_no_script(mine: Mine) -> None:
    mine.supervisor.set_password("right-horse-9")
    mine.supervisor.save()
    told = {"username": "supervisor-ridge", "password": "right-horse-9"}
    session = Client().post("/sign-in/", told).cookies["sessionid"]
    assert (session["httponly"], session["samesite"]) == (True, "Lax")


@pytest.mark.parametrize("method", ["TRACE", "CONNECT", "PUT", "MOVE"])
def test_an_unheard_of_method_is_refused_by_the_api(mine: Mine, method: str) -> None:
    assert caller(mine.supervisor).send(method, "sites/ridge/tyres/", None).status_code == 405


def test_a_field_that_is_not_told_cannot_be_set(mine: Mine) -> None:
    supervisor = caller(mine.supervisor)
    told = {
        "serial": "S",
        "size_as_written": "20.5R25",
        "state": "out_of_service",
        "site": 99,
        "id": 7,
        "version": 9,
    }
    answer = supervisor.post("sites/ridge/tyres/", told)
    tyre = Tyre.objects.get(serial="S")
    assert (answer.status_code, tyre.state, tyre.site_id, tyre.version) == (
        201,
        "off_machine",
        mine.site.pk,
        1,
    )


@pytest.mark.parametrize(
    ("serial", "status"),
    [
        ("\u00c5-1", 422), ("A\u030a-1", 422), ("\u00c5-1\u200b", 422), ("\ufeff\u00c5-1\u00a0", 422),
        ("\u202e\u00c5-1", 422), ("\u00c5-1\u2066", 422), ("\u00c5-\u00ad1", 422), ("\u00c5\n-1", 422),
        ("\u00c5\t-1", 422), ("\u00c5\u3000-1", 422), ("\u00c5\u200d-1", 422), ("\u00c5 -1", 201),
        ("B-1", 201),
    ],
)  # fmt: skip
def test_two_tyres_never_have_serials_that_look_the_same(mine: Mine, serial: str, status: int) -> None:
    """What composes a letter, or is not to be seen, makes no other serial (Unicode Annex 15, UTS 39)."""
    supervisor = caller(mine.supervisor)
    first = supervisor.post("sites/ridge/tyres/", {"serial": "A\u030a-1", "size_as_written": "20.5R25"})
    assert (first.status_code, Tyre.objects.get().serial) == (201, "\u00c5-1")
    second = supervisor.post("sites/ridge/tyres/", {"serial": serial, "size_as_written": "20.5R25"})
    assert second.status_code == status


@pytest.mark.parametrize(
    "way",
    ["//evil.example/", "https:evil.example", "/\\evil.example", "////evil.example", "\x01//evil.example"],
)
def test_a_sign_in_leads_to_no_other_host(mine: Mine, way: str) -> None:
    mine.supervisor.set_password("right-horse-9")
    mine.supervisor.save()
    told = {"username": "supervisor-ridge", "password": "right-horse-9", "next": way}
    assert Client().post("/sign-in/", told).headers["Location"] == "/"


def test_a_sign_in_takes_no_session_that_somebody_else_chose(mine: Mine) -> None:
    mine.supervisor.set_password("right-horse-9")
    mine.supervisor.save()
    client, chosen = Client(), "abcdefghijklmnopqrstuvwxyz012345"
    client.cookies["sessionid"] = chosen
    client.post("/sign-in/", {"username": "supervisor-ridge", "password": "right-horse-9"})
    assert client.cookies["sessionid"].value not in ("", chosen)


@pytest.mark.parametrize("name", ["X-HTTP-Method-Override", "X-HTTP-Method", "X-Method-Override"])
def test_a_header_makes_no_other_method_of_a_request(mine: Mine, name: str) -> None:
    row = mine.heater_set("H7")
    caller(mine.users["administrator"]).client.post(
        f"/api/v1/sites/ridge/heater-sets/{row.pk}/", b"{}", content_type="application/json",
        headers={name: "DELETE", "If-Match": "*"},
    )  # fmt: skip
    assert type(row).objects.filter(pk=row.pk).exists()


@pytest.mark.parametrize("name", ["supervisor-ridge", "nobody-at-all"])
def test_a_refused_sign_in_says_the_same_of_everybody(mine: Mine, name: str) -> None:
    page = Client().post("/sign-in/", {"username": name, "password": "wrong"})
    assert page.status_code == 200
    assert b"do not belong together" in page.content


@pytest.mark.parametrize("kind", ["known", "unknown", "closed"])
def test_a_refused_sign_in_takes_as_long_for_everybody(
    mine: Mine, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    """A password is worked through once, which is what takes the time, whoever is named."""
    mine.supervisor.set_password("right-horse-9")
    mine.supervisor.is_active = kind != "closed"
    mine.supervisor.save()
    hashed: list[str] = []
    encode = MD5PasswordHasher.encode

    def counted(self: MD5PasswordHasher, password: str, salt: str) -> str:
        hashed.append(password)
        return str(encode(self, password, salt))

    monkeypatch.setattr(MD5PasswordHasher, "encode", counted)
    name = "nobody-at-all" if kind == "unknown" else "supervisor-ridge"
    password = "right-horse-9" if kind == "closed" else "wrong"
    page = Client().post("/sign-in/", {"username": name, "password": password})
    assert (page.status_code, hashed) == (200, [password])
    assert b"do not belong together" in page.content


def test_a_name_is_locked_out_after_five_wrong_passwords_from_one_address(mine: Mine) -> None:
    mine.supervisor.set_password("right-horse-9")
    mine.supervisor.save()
    for _ in range(5):
        last = Client().post("/sign-in/", {"username": "supervisor-ridge", "password": "wrong"})
    assert last.status_code == 429
    right = {"username": "supervisor-ridge", "password": "right-horse-9"}
    assert Client().post("/sign-in/", right).status_code == 429
    # From another address the same person signs in: nobody locks a colleague out.
    assert Client(REMOTE_ADDR="192.0.2.7").post("/sign-in/", right).status_code == 302
