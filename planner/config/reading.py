"""A request that only reads asks who its reader is once, not with every selector that it comes through."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from planner.selectors.access import roles_asked_once


class ReadingMiddleware:
    """Remembers roles for one GET or HEAD; whatever writes asks anew, inside its own transaction."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request."""
        if request.method not in ("GET", "HEAD"):
            return self.get_response(request)
        with roles_asked_once():
            return self.get_response(request)
