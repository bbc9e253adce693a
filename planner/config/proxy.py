"""Behind our own proxy, the caller's address is the one that the proxy wrote."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse


class ProxiedAddressMiddleware:
    """Takes the last forwarded address: the proxy appends it, so a caller cannot forge that one."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request with the caller's own address in place of the proxy's."""
        forwarded = request.META.get("HTTP_X_FORWARDED_FOR", "").rpartition(",")[2].strip()
        if forwarded:
            request.META["REMOTE_ADDR"] = forwarded
        return self.get_response(request)
