"""Tokens: told once, kept as a digest, bound to a site and some actions, over in time, revoked at once."""

from datetime import timedelta

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from planner.domain.permissions import Action
from planner.models import ApiToken
from planner.services.api_tokens import api_token_make
from tests.lib.api import Caller, caller, told
from tests.lib.mine import Mine, mine_open


def _made(mine: Mine, *actions: Action) -> tuple[ApiToken, str]:
    return api_token_make(
        user=mine.supervisor,
        site=mine.site,
        name="fleet system",
        actions=actions or [Action.SITE_READ],
        expires_at=timezone.now() + timedelta(days=30),
    )


def test_a_token_signs_in(mine: Mine) -> None:
    token, secret = _made(mine)
    answer = caller(None, secret).get("sites/ridge/tyres/")
    assert answer.status_code == 200
    token.refresh_from_db()
    assert token.last_used_at is not None
    assert secret not in {str(value) for value in vars(token).values()}


def test_a_token_over_or_revoked_or_of_somebody_gone_opens_nothing(mine: Mine) -> None:
    _, secret = _made(mine)
    reader = caller(None, secret)
    now = timezone.now()
    ApiToken.objects.update(made_at=now - timedelta(days=2), expires_at=now - timedelta(seconds=1))
    over = reader.get("sites/ridge/tyres/")
    assert (over.status_code, told(over)["detail"]) == (401, "this token is unknown, over or revoked")
    ApiToken.objects.update(expires_at=now + timedelta(days=1))
    assert reader.get("sites/ridge/tyres/").status_code == 200
    mine.supervisor.is_active = False
    mine.supervisor.save()
    assert reader.get("sites/ridge/tyres/").status_code == 401


def test_a_revoked_token_opens_nothing(mine: Mine, supervisor: Caller) -> None:
    token, secret = _made(mine)
    path = f"sites/ridge/tokens/{token.pk}/"
    tag = supervisor.get(path)["ETag"]
    assert supervisor.send("DELETE", path, None, if_match=tag).status_code == 204
    assert caller(None, secret).get("sites/ridge/").status_code == 401


def test_a_token_of_one_site_sees_no_other(mine: Mine) -> None:
    other = mine_open("valley")
    other.add("sitemembership", user=mine.supervisor, role="supervisor")
    _, secret = _made(mine)
    reader = caller(None, secret)
    assert reader.get("sites/valley/").status_code == 404
    assert [each["code"] for each in told(reader.get("sites/"))["results"]] == ["ridge"]
    assert caller(mine.supervisor).get("sites/valley/").status_code == 200


def test_a_token_makes_no_tokens(mine: Mine) -> None:
    _, secret = _made(mine)
    refused = caller(None, secret).post("sites/ridge/tokens/", {})
    assert (refused.status_code, told(refused)["code"]) == (403, "not_allowed")


@pytest.mark.parametrize(
    ("actions", "days", "words"),
    [
        (["site_change"], 1, "site_change"),
        (["site_read"], 400, "within a year"),
        (["site_read"], -1, "expire after now"),
    ],
)
def test_a_token_beyond_its_user_or_its_year_is_refused(
    supervisor: Caller, actions: list[str], days: int, words: str
) -> None:
    expires_at = timezone.now() + timedelta(days=days)
    wanted = {"name": "fleet", "actions": actions, "expires_at": expires_at}
    refused = supervisor.post("sites/ridge/tokens/", wanted)
    assert refused.status_code == 422
    assert words in told(refused)["detail"]


def test_others_tokens_are_the_administrators_alone(mine: Mine, administrator: Caller) -> None:
    token, _ = _made(mine)
    path = f"sites/ridge/tokens/{token.pk}/"
    assert caller(mine.users["planner"]).get(path).status_code == 404
    tag = administrator.get(path)["ETag"]
    assert administrator.send("DELETE", path, None, if_match=tag).status_code == 204


def test_the_command_makes_a_token_that_signs_in(mine: Mine, capsys: pytest.CaptureFixture[str]) -> None:
    call_command("api_token", "supervisor-ridge", "ridge", "fleet system", may=["site_read"], days=5)
    secret = capsys.readouterr().out.strip()
    assert caller(None, secret).get("sites/ridge/").status_code == 200
    with pytest.raises(CommandError, match="site_change"):
        call_command("api_token", "supervisor-ridge", "ridge", "fleet system", may=["site_change"], days=5)
    with pytest.raises(CommandError, match="no user nobody"):
        call_command("api_token", "nobody", "ridge", "fleet system", may=["site_read"])
