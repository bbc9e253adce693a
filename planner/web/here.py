"""Where a page stands: the site in its address, the reader's role there, and the site's own clock."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any, cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from planner.domain.errors import ConflictError, NotAllowedError, NotFoundError, UserError
from planner.domain.permissions import Action, Role, may
from planner.selectors.access import role_get, site_get, site_list
from planner.selectors.notices import unread_count
from planner.selectors.nouns import Site, User
from planner.selectors.preferences import Reading, reading_get
from planner.selectors.telling import in_words

_ENTRIES: tuple[tuple[str, Promise | str, Action], ...] = (
    ("today", _("Today"), Action.SITE_READ),
    ("queue", _("Queue"), Action.SITE_READ),
    ("fleet", _("Fleet"), Action.SITE_READ),
    ("plan", _("Plan"), Action.SITE_READ),
    ("sheets", _("Shift sheets"), Action.SITE_READ),
    ("floor", _("Floor"), Action.WORK_RECORD),
    ("accounts", _("Accounts"), Action.MONEY_READ),
    ("materials", _("Materials"), Action.SITE_READ),
    ("resources", _("Bay"), Action.SITE_READ),
    ("administration", _("Site"), Action.SITE_CHANGE),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A page in the header."""

    name: str
    words: Promise | str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Here:
    """The site, who reads, as what, and in which units."""

    site: Site
    user: User
    role: Role
    reading: Reading
    has_other_sites: bool

    @property
    def zone(self) -> ZoneInfo:
        """The site's time zone."""
        return ZoneInfo(self.site.time_zone)

    @property
    def entries(self) -> list[Entry]:
        """The pages that the reader may open."""
        return [
            Entry(name=name, words=words, address=reverse(name, args=[self.site.code]))
            for name, words, action in _ENTRIES
            if may(self.role, action)
        ]

    @property
    def may(self) -> dict[str, bool]:
        """Every action by its name, for templates that show only what can be done."""
        return {action.value: may(self.role, action) for action in Action}

    @property
    def unread(self) -> int:
        """How many notices are new to the reader."""
        return unread_count(user=self.user, site=self.site)

    def allows(self, action: Action) -> bool:
        """Whether the reader may do this here."""
        return may(self.role, action)


SitePage = Callable[..., HttpResponse]


def signed_in_user(request: HttpRequest) -> User:
    """The reader, who is known to have signed in."""
    return cast(User, request.user)


def here_get(user: User, code: str) -> Here:
    """Where the reader stands on this site; NotFoundError where it is none of theirs."""
    site = site_get(user=user, code=code)
    role = role_get(user=user, site=site)
    if role is None:
        raise NotFoundError(f"there is no site {code} among yours")
    return Here(
        site=site,
        user=user,
        role=role,
        reading=reading_get(user=user, site=site),
        has_other_sites=site_list(user=user).count() > 1,
    )


def site_page(action: Action) -> Callable[[SitePage], SitePage]:
    """Make a view a page of one site, for those who may do `action`, on the site's clock.

    The view gets `(request, here, ...)`. A user's error that reaches the rim becomes a page with its own
    words: 404, 403, 409 or 422.
    """

    def wrap(view: SitePage) -> SitePage:
        @_signed_in
        @wraps(view)
        def page(request: HttpRequest, site: str, **named: Any) -> HttpResponse:
            try:
                here = here_get(signed_in_user(request), site)
            except NotFoundError as error:
                return refusal(request, None, error)
            with timezone.override(here.zone), translation.override(here.reading.language):
                if not here.allows(action):
                    words = _("This page is for others on this site. Ask the supervisor if you need it.")
                    return refusal(request, here, NotAllowedError(words))
                try:
                    return view(request, here, **named)
                except UserError as error:
                    return refusal(request, here, error)

        # Whoever walks the addresses reads here what each asks for.
        page.action = action  # type: ignore[attr-defined]
        return page

    return wrap


def _signed_in(view: SitePage) -> SitePage:
    """Send a browser to the sign-in; a part of a page gets 401, or the form would stand inside the page."""
    whole = login_required(view)

    @wraps(view)
    def page(request: HttpRequest, *places: Any, **named: Any) -> HttpResponse:
        if getattr(request, "htmx", False) and not request.user.is_authenticated:
            return HttpResponse(status=401)
        return whole(request, *places, **named)

    return page


def refusal(request: HttpRequest, here: Here | None, error: UserError) -> HttpResponse:
    """Say what was wrong and what to do next; a part of a page gets a notice, a browser a page."""
    kinds = ((NotFoundError, 404), (NotAllowedError, 403), (ConflictError, 409))
    status = next((code for kind, code in kinds if isinstance(error, kind)), 422)
    is_part = bool(getattr(request, "htmx", False))
    template = "parts/notice.html" if is_part else "parts/refusal.html"
    return render(request, template, {"here": here, "words": in_words(error), "level": "bad"}, status=status)


def show(request: HttpRequest, here: Here, template: str, section: str = "", **context: Any) -> HttpResponse:
    """Write a page of the site; `section` is its entry in the header."""
    return render(request, template, {"here": here, "section": section, **context})


def tell(request: HttpRequest, words: str) -> None:
    """Say on the next page that something was done."""
    messages.success(request, words)
