"""Every page that the program has, found as a person finds it: by following what the pages offer."""

import re
from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from html import unescape

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import Resolver404, URLPattern, resolve

from planner.domain.permissions import Action, Role, may
from planner.models import SiteMembership, User
from planner.web.urls import on_site, urlpatterns

_OFFERED = re.compile(r'(?:href|hx-get|action)="(/[^"#]*)"')
PATTERNS: Mapping[str, URLPattern] = {
    str(each.name): each for each in (*urlpatterns, *on_site) if isinstance(each, URLPattern)
}
"""Every address of the pages by its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WholePage:
    """A page as its reader got it, who is still signed in, and what it asked of the database in SQL."""

    name: str
    address: str
    reader: User
    session: str
    policy: str
    html: str
    asked: tuple[str, ...]


@dataclass(slots=True, kw_only=True)
class Walk:
    """What was found by name: whole pages, and beside them parts, files and what only takes what is sent."""

    pages: dict[str, WholePage] = field(default_factory=dict)
    others: set[str] = field(default_factory=set)

    @property
    def unseen(self) -> set[str]:
        """The names that no page offers, and that answer to reading."""
        return {name for name in set(PATTERNS) - set(self.pages) - self.others if not _only_takes(name)}


def walk(readers: Sequence[User], site: str) -> Walk:
    """Follow every offered address, one of each name, as the first of the readers who may open it."""
    clients = {reader: client_of(reader) for reader in readers}
    roles = dict(SiteMembership.objects.filter(site__code=site).values_list("user", "role"))
    found, waiting = Walk(), deque(["/account/", "/sites/"])
    for client in clients.values():  # the pages in the header offer each role something else
        for entry in _header(client, f"/at/{site}/"):
            waiting.extend(offered(client.get(entry).content.decode()))
    while waiting:
        address = waiting.popleft()
        name = _name_of(address)
        if name is None or name in found.pages or name in found.others:
            continue
        reader = next((each for each in readers if _may_open(name, roles.get(each.pk))), None)
        if reader is None:
            continue
        with CaptureQueriesContext(connection) as queries:
            answer = clients[reader].get(address)
        text = answer.content.decode() if answer.get("Content-Type", "").startswith("text/html") else ""
        if answer.status_code == 200 and "<html" in text:
            session = clients[reader].cookies["sessionid"].value
            found.pages[name] = WholePage(
                name=name,
                address=address,
                reader=reader,
                session=session,
                html=text,
                policy=answer.headers["Content-Security-Policy"],
                asked=tuple(each["sql"] for each in queries.captured_queries),
            )
        else:
            found.others.add(name)
        waiting.extend(offered(text))
    return found


def offered(html: str) -> list[str]:
    """Where the links, forms and parts of a page lead to on this server."""
    return [unescape(each) for each in _OFFERED.findall(html)]


def _header(client: Client, address: str) -> list[str]:
    """The pages in the header."""
    return offered(client.get(address).content.decode().partition("<nav")[2].partition("</nav>")[0])


def client_of(user: User) -> Client:
    """A browser without a screen on which the user is signed in."""
    client = Client()
    client.force_login(user)
    return client


def _may_open(name: str, role: str | None) -> bool:
    action: Action | None = getattr(PATTERNS[name].callback, "action", None)
    return action is None or (role is not None and may(Role(role), action))


def _only_takes(name: str) -> bool:
    """Whether the address refuses to be read; its places are never looked at before that is known."""
    route = re.sub(r"<(\w+:)?\w+>", "1", str(PATTERNS[name].pattern))
    is_on_site = PATTERNS[name] in on_site
    return Client().get(f"/at/x/{route}" if is_on_site else f"/{route}").status_code == 405


def _name_of(address: str) -> str | None:
    try:
        name = resolve(address.partition("?")[0]).url_name
    except Resolver404:
        return None
    return name if name in PATTERNS else None
