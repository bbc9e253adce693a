"""Between the password and the pages: a one-time code, where one is due; and an end to each session."""

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.contrib.auth import logout
from django.contrib.auth.models import AbstractBaseUser
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode

from planner.selectors.one_time_codes import CodeDue, code_due_get

DUE, SINCE = "code_due", "signed_in_at"
_PAGES = {CodeDue.ENTER: "code_enter", CodeDue.SET_UP: "codes_set_up"}
_OPEN = {"sign_in", "sign_out", "healthz", "readyz", "metrics"}


def signed_in(request: HttpRequest, user: Any, **_: object) -> None:
    """Note what is due, however somebody signed in, and since when the session lasts."""
    request.session[SINCE] = timezone.now().timestamp()
    due = code_due_get(user=user)
    if due:
        request.session[DUE] = due.value


def gate_open(request: HttpRequest) -> None:
    """The code was right: the session goes on under a new key."""
    request.session.pop(DUE, None)
    request.session.cycle_key()


class GateMiddleware:
    """Lets nobody past who owes a code. The API says so in its own words."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request."""
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *_: object) -> HttpResponseBase | None:
        """The page that asks for the code, in place of the one that was asked for."""
        match = request.resolver_match
        if match is None or match.url_name in _OPEN or not _is_signed_in(request):
            return None
        if timezone.now().timestamp() - request.session.get(SINCE, 0) > settings.SESSION_COOKIE_AGE:
            logout(request)
            return None
        due = request.session.get(DUE)
        if not due or request.path.startswith("/api/") or match.url_name == _PAGES[CodeDue(due)]:
            return None
        way_back = {"next": request.get_full_path()} if request.method == "GET" else {}
        return redirect(f"{reverse(_PAGES[CodeDue(due)])}?{urlencode(way_back)}")


def _is_signed_in(request: HttpRequest) -> bool:
    user: AbstractBaseUser | Any = request.user
    return bool(user.is_authenticated)
