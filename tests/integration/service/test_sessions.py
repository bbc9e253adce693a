"""Sessions end with a role, a password or a wish; one-time codes stand between password and pages."""

import re
from datetime import timedelta
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.test import Client, override_settings
from django.utils import timezone
from django_otp.oath import totp
from django_otp.plugins.otp_totp.models import TOTPDevice

from planner.domain.errors import ConflictError
from planner.models import SiteMembership, User
from planner.services.nouns import noun_change, noun_remove
from planner.services.one_time_codes import codes_begin, codes_confirm
from tests.lib.mine import Mine, mine_open

pytestmark = pytest.mark.django_db
PASSWORD = "slow-red-lorry-41"


@pytest.fixture
def mine() -> Mine:
    """The site `ridge`, where everybody has the same password."""
    mine = mine_open()
    for user in mine.users.values():
        user.set_password(PASSWORD)
        user.save()
    return mine


def signed_in(user: User, password: str = PASSWORD) -> Client:
    client = Client()
    client.post("/sign-in/", {"username": user.username, "password": password})
    return client


def is_in(client: Client) -> bool:
    return client.get("/at/ridge/queue/").status_code == 200


def code_of(user: User, steps: int = 0) -> str:
    device = TOTPDevice.objects.get(user=user)
    return f"{totp(device.bin_key, drift=steps):06d}"


def with_codes(user: User) -> User:
    codes_begin(user=user)
    codes_confirm(user=user, code=code_of(user, -1))
    user.refresh_from_db()
    return user


def membership(mine: Mine, role: str) -> SiteMembership:
    return SiteMembership.objects.get(user=mine.users[role])


def test_a_changed_role_ends_every_session_of_that_user_alone(mine: Mine) -> None:
    planner, technician = signed_in(mine.users["planner"]), signed_in(mine.users["technician"])
    assert is_in(planner) and is_in(technician)
    row = membership(mine, "planner")
    noun_change(
        user=mine.users["administrator"], site=mine.site, noun="sitemembership", row_id=row.pk,
        values={"role": "technician"},
    )  # fmt: skip
    assert (is_in(planner), is_in(technician)) == (False, True)
    assert is_in(signed_in(mine.users["planner"]))


def test_who_leaves_the_site_is_signed_out(mine: Mine) -> None:
    client, row = signed_in(mine.users["planner"]), membership(mine, "planner")
    noun_remove(
        user=mine.users["administrator"], site=mine.site, noun="sitemembership", row_id=row.pk, why="left"
    )
    assert client.get("/account/").status_code == 302


def test_nobody_takes_a_role_from_themselves(mine: Mine) -> None:
    user, row = mine.users["administrator"], membership(mine, "administrator")
    told: dict[str, Any] = {"user": user, "site": mine.site, "noun": "sitemembership", "row_id": row.pk}
    for values in ({"role": "technician"}, {"user": mine.users["planner"]}):
        with pytest.raises(ConflictError, match="another administrator"):
            noun_change(**told, values=values)
    with pytest.raises(ConflictError, match="another administrator"):
        noun_remove(**told, why="a slip")
    noun_change(**told, values={"role": "administrator"})
    assert is_in(signed_in(user))
    assert membership(mine, "administrator").role == "administrator"


def test_a_closed_account_is_signed_out(mine: Mine) -> None:
    client = signed_in(mine.users["planner"])
    User.objects.filter(pk=mine.users["planner"].pk).update(is_active=False)
    assert not is_in(client)


def test_a_changed_password_keeps_only_the_session_that_changed_it(mine: Mine) -> None:
    user = mine.users["planner"]
    here, elsewhere = signed_in(user), signed_in(user)
    answer = here.post("/account/", {"current": PASSWORD, "new": "quiet-blue-tram-77"})
    assert answer.status_code == 302
    assert (is_in(here), is_in(elsewhere)) == (True, False)
    assert is_in(signed_in(user, "quiet-blue-tram-77")) and not is_in(signed_in(user))


@pytest.mark.parametrize(
    ("current", "new", "words"),
    [
        ("wrong", "quiet-blue-tram-77", "not your password"),
        (PASSWORD, "password1", "too common"),
        (PASSWORD, "short", "at least 8"),
        (PASSWORD, "planner-ridge", "similar to the username"),
    ],
)
def test_a_password_is_not_changed_for_a_bad_one(mine: Mine, current: str, new: str, words: str) -> None:
    page = signed_in(mine.users["planner"]).post("/account/", {"current": current, "new": new})
    assert words in page.content.decode()
    assert is_in(signed_in(mine.users["planner"]))


def test_a_long_password_of_any_signs_is_taken_whole(mine: Mine) -> None:
    long = "ß " + "x" * 126
    client = signed_in(mine.users["planner"])
    client.post("/account/", {"current": PASSWORD, "new": long})
    assert is_in(signed_in(mine.users["planner"], long))
    assert not is_in(signed_in(mine.users["planner"], long[:-1]))


def test_signing_out_elsewhere_keeps_this_session(mine: Mine) -> None:
    here, elsewhere = signed_in(mine.users["planner"]), signed_in(mine.users["planner"])
    here.post("/account/sign-out-elsewhere/")
    assert (is_in(here), is_in(elsewhere)) == (True, False)


def test_signing_out_ends_the_session_on_the_server(mine: Mine) -> None:
    client = signed_in(mine.users["planner"])
    stolen = Client()
    stolen.cookies["sessionid"] = client.cookies["sessionid"].value
    assert is_in(stolen)
    client.post("/sign-out/")
    assert not is_in(stolen)


def test_a_session_ends_after_its_time_however_busy_it_was(mine: Mine) -> None:
    client = signed_in(mine.users["planner"])
    session = client.session
    session["signed_in_at"] = (timezone.now() - timedelta(hours=14, minutes=1)).timestamp()
    session.save()
    assert not is_in(client)


def test_signing_in_gives_a_new_key_to_the_session(mine: Mine) -> None:
    client = Client()
    client.get("/sign-in/")
    session = client.session
    session["before"] = 1
    session.save()
    client.cookies["sessionid"] = before = session.session_key or ""
    client.post("/sign-in/", {"username": mine.users["planner"].username, "password": PASSWORD})
    assert client.cookies["sessionid"].value != before


def test_codes_are_set_up_by_password_and_a_first_code(mine: Mine) -> None:
    user = mine.users["planner"]
    client, elsewhere = signed_in(user), signed_in(user)
    assert "QR" not in client.get("/account/codes/").content.decode()
    assert "not your password" in client.post("/account/codes/", {"password": "wrong"}).content.decode()
    client.post("/account/codes/", {"password": PASSWORD})
    page = client.get("/account/codes/").content.decode()
    assert re.search(r"<code>[A-Z2-7]{32}</code>", page) and "<svg" in page
    assert "not right" in client.post("/account/codes/", {"code": "000000"}).content.decode()
    TOTPDevice.objects.update(throttling_failure_count=0)
    assert client.post("/account/codes/", {"code": code_of(user)}).status_code == 302
    assert (is_in(client), is_in(elsewhere)) == (True, False)


def test_a_password_alone_opens_nothing_where_codes_are_used(mine: Mine) -> None:
    user = with_codes(mine.users["administrator"])
    user.is_staff = user.is_superuser = True
    user.save()
    client = signed_in(user)
    for address in ("/", "/at/ridge/", "/at/ridge/queue/", "/account/", "/account/codes/", "/admin/"):
        answer = client.get(address)
        assert (answer.status_code, answer["Location"].partition("?")[0]) == (302, "/account/codes/enter/")
    assert client.post("/account/codes/remove/", {"password": PASSWORD}).status_code == 302
    assert TOTPDevice.objects.filter(user=user).exists()
    api = client.get("/api/v1/sites/ridge/")
    assert (api.status_code, "one-time code" in api.json()["detail"]) == (403, True)
    assert client.get("/api/v1/sites/").status_code == 403
    key = client.cookies["sessionid"].value
    opened = client.post("/account/codes/enter/?next=/at/ridge/queue/", {"code": code_of(user)})
    assert (opened["Location"], is_in(client)) == ("/at/ridge/queue/", True)
    assert client.cookies["sessionid"].value != key
    assert client.get("/api/v1/sites/ridge/").status_code == 200


def test_the_administrators_own_sign_in_asks_for_the_code_too(mine: Mine) -> None:
    user = with_codes(mine.users["administrator"])
    User.objects.filter(pk=user.pk).update(is_staff=True, is_superuser=True)
    client = Client()
    client.post("/admin/login/", {"username": user.username, "password": PASSWORD})
    assert client.get("/admin/")["Location"].startswith("/account/codes/enter/")


def test_a_code_is_good_once_and_wrong_ones_make_the_next_wait(mine: Mine) -> None:
    user = with_codes(mine.users["planner"])
    code = code_of(user)
    assert is_in(entered(user, code))
    assert not is_in(entered(user, code))
    TOTPDevice.objects.update(last_t=-1, throttling_failure_count=0)
    entered(user, "000000")
    # After a wrong one even the right one waits, for a second, which a slow machine may spend on signing in.
    assert TOTPDevice.objects.get(user=user).throttling_failure_count == 1
    TOTPDevice.objects.update(throttling_failure_timestamp=timezone.now() + timedelta(minutes=1))
    assert not is_in(entered(user, code_of(user)))


def entered(user: User, code: str) -> Client:
    client = signed_in(user)
    client.post("/account/codes/enter/", {"code": code})
    return client


def test_a_way_back_to_elsewhere_is_not_taken(mine: Mine) -> None:
    user = with_codes(mine.users["planner"])
    client = signed_in(user)
    answer = client.post("/account/codes/enter/?next=https://evil.example/", {"code": code_of(user)})
    assert answer["Location"] == "/"


def test_a_role_that_has_to_use_codes_sets_them_up_first(mine: Mine) -> None:
    with override_settings(CODES_FOR=["planner"]):
        client = signed_in(mine.users["planner"])
        assert client.get("/at/ridge/")["Location"].startswith("/account/codes/?")
        assert is_in(signed_in(mine.users["technician"]))
        client.post("/account/codes/", {"password": PASSWORD})
        client.post("/account/codes/", {"code": code_of(mine.users["planner"])})
        assert is_in(client)


def test_codes_are_taken_away_by_password_or_by_command(mine: Mine) -> None:
    user = with_codes(mine.users["planner"])
    client = entered(user, code_of(user))
    client.post("/account/codes/remove/", {"password": "wrong"})
    assert TOTPDevice.objects.filter(user=user).exists()
    client.post("/account/codes/remove/", {"password": PASSWORD})
    assert not TOTPDevice.objects.filter(user=user).exists() and is_in(client)
    with_codes(user)
    call_command("account_release", user.username, "--codes", verbosity=0)
    assert not is_in(client) and is_in(signed_in(user))
    with pytest.raises(CommandError, match="no user nobody"):
        call_command("account_release", "nobody")


def test_everybody_is_signed_out_by_command(mine: Mine) -> None:
    clients = [signed_in(mine.users[role]) for role in ("planner", "technician")]
    call_command("account_release", "--everybody")
    assert [is_in(client) for client in clients] == [False, False]


def test_the_door_logs_ids_and_never_what_was_typed(mine: Mine, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level("INFO", "tyrewright.sign_in")
    client = signed_in(mine.users["planner"])
    signed_in(mine.users["planner"], "my-secret-word")
    client.post("/sign-out/")
    records = [record for record in caplog.records if record.name == "tyrewright.sign_in"]
    assert [record.getMessage() for record in records] == ["signed in", "sign-in refused", "signed out"]
    assert records[0].user_id == mine.users["planner"].pk  # type: ignore[attr-defined]
    assert not any(
        "planner-ridge" in str(vars(record)) or "my-secret" in str(vars(record)) for record in records
    )
