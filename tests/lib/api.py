"""A caller of the API in-process: JSON in, JSON out, entity tags and keys by name."""

import json
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.http import HttpResponse
from django.test import Client
from django.utils import timezone

from planner.domain.permissions import PERMISSIONS, Role
from planner.models import User
from planner.services.api_tokens import api_token_make
from tests.lib.mine import Mine


@dataclass(frozen=True, slots=True, kw_only=True)
class Caller:
    """Somebody who is signed in, or nobody."""

    client: Client
    root: str = "/api/v1/"

    def get(self, path: str, **headers: str) -> HttpResponse:
        """Read."""
        return self.send("GET", path, None, **headers)

    def post(self, path: str, body: Any = None, **headers: str) -> HttpResponse:
        """Make or move."""
        return self.send("POST", path, body if body is not None else {}, **headers)

    def patch(self, path: str, body: Any, **headers: str) -> HttpResponse:
        """Change."""
        return self.send("PATCH", path, body, **headers)

    def send(self, method: str, path: str, body: Any, **headers: str) -> HttpResponse:
        """Any request; headers by name with underscores, such as `if_match`."""
        data = b"" if body is None else json.dumps(body, default=str).encode()
        sent = {name.replace("_", "-"): value for name, value in headers.items()}
        address = path if path.startswith("/") else self.root + path
        return self.client.generic(  # type: ignore[return-value]
            method, address, data, content_type="application/json", headers=sent
        )


def caller(user: User | None, secret: str = "") -> Caller:
    """The user by session; by token where a secret is given; nobody with neither."""
    client = Client(
        raise_request_exception=False, headers={"authorization": f"Bearer {secret}"} if secret else {}
    )
    if user is not None:
        client.force_login(user)
    return Caller(client=client)


def told(response: HttpResponse) -> Any:
    """What was answered."""
    return json.loads(response.content)


def token_of(mine: Mine, role: Role) -> str:
    """The secret of a token that may do whatever the role may."""
    actions = [action for action, roles in PERMISSIONS.items() if role in roles]
    expires_at = timezone.now() + timedelta(days=1)
    user = mine.users[role]
    made = api_token_make(user=user, site=mine.site, name=role, actions=actions, expires_at=expires_at)
    return made[1]
