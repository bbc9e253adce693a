"""What every answer tells a browser beside the policies: nothing of it is kept on a disk."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse


class NotKeptMiddleware:
    """`Cache-Control: no-store` on each answer that says nothing of its own: pages, figures, the API."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request."""
        response = self.get_response(request)
        response.headers.setdefault("Cache-Control", "no-store")
        return response
