"""No text that people send holds the character NUL: PostgreSQL keeps none, so no page has to expect it."""

from collections.abc import Callable, Iterator

from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest

_FORMS = ("application/x-www-form-urlencoded", "multipart/form-data")


class NulMiddleware:
    """400 where an address, a cookie or a form holds it; the API's own shapes name the field instead."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request, or refuse it."""
        if any("\0" in text for text in _texts(request)):
            return HttpResponseBadRequest(
                "The character NUL stands in what was sent.", content_type="text/plain"
            )
        return self.get_response(request)


def _texts(request: HttpRequest) -> Iterator[str]:
    yield request.path
    yield from request.COOKIES.values()
    if request.path.startswith("/api/"):
        return
    sent = [request.GET, request.POST] if request.content_type in _FORMS else [request.GET]
    for values in sent:
        for name, texts in values.lists():
            yield name
            yield from map(str, texts)
