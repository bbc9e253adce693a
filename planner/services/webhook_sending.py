"""One message to one receiver: an address that may be called, looked up once, no redirect followed."""

import http.client
import ipaddress
import socket
import ssl
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import SplitResult, urlsplit

from django.conf import settings

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _

SECONDS = 10
Address = ipaddress.IPv4Address | ipaddress.IPv6Address
# Global unicast (RFC 4291, 2.4); the rest of IPv6 is local, or hides an IPv4 address, as ::7f00:1 does.
_UNICAST = ipaddress.ip_network("2000::/3")
# They hide an IPv4 address as well: 6to4 with its relay, and Teredo (RFC 3056, 7526, 4380).
_HIDING = tuple(map(ipaddress.ip_network, ("2002::/16", "2001::/32", "192.88.99.0/24")))


@dataclass(frozen=True, slots=True, kw_only=True)
class Receiver:
    """Where to send: a host by its name, and the one of its addresses that was found fit."""

    parts: SplitResult
    host: str
    port: int
    address: str

    @property
    def target(self) -> str:
        """Path and query."""
        return (self.parts.path or "/") + (f"?{self.parts.query}" if self.parts.query else "")


class SendingError(Exception):
    """The message did not arrive; the text says why, and `answer` what was answered, if anything was."""

    def __init__(self, why: str, answer: int | None = None) -> None:
        self.answer = answer
        super().__init__(why)


def receiver_of(url: str) -> Receiver:
    """The receiver at an address; InvalidValueError where it may not be called.

    Only `https` and public addresses, unless the service allows networks of the site's own
    (`WEBHOOK_NETWORKS`), where `http` will do as well. Every address of the name must be fit.
    """
    parts = _parts(url)
    host = parts.hostname or ""
    port = parts.port or (443 if parts.scheme == "https" else 80)
    addresses = _addresses(host, port)
    own = [_is_own(address) for address in addresses]
    if parts.scheme == "http" and not all(own):
        raise InvalidValueError(_("a webhook's address begins with https://"))
    for address, is_own in zip(addresses, own, strict=True):
        if not is_own and not _is_public(address):
            raise InvalidValueError(
                _("{host} is no public address, nor in a network that is allowed", host=host)
            )
    return Receiver(parts=parts, host=host, port=port, address=str(addresses[0]))


def send(url: str, *, body: str, headers: Mapping[str, str]) -> int:
    """Post a text to a receiver; the status where it was 2xx, SendingError else. Redirects are failures."""
    try:
        receiver = receiver_of(url)
        connection = _connection(receiver)
    except InvalidValueError as refused:
        raise SendingError(str(refused)) from refused
    told = {"Content-Type": "application/json", "User-Agent": "Tyrewright", **headers}
    try:
        connection.request("POST", receiver.target, body.encode(), told)
        answer = connection.getresponse().status
    except (OSError, http.client.HTTPException, ValueError) as fault:
        raise SendingError(_("no answer: {fault}", fault=type(fault).__name__)) from fault
    finally:
        connection.close()
    if not 200 <= answer < 300:
        raise SendingError(_("answered {answer}", answer=answer), answer)
    return answer


def _parts(url: str) -> SplitResult:
    try:
        parts = urlsplit(url)
        parts.port  # noqa: B018
    except ValueError as fault:
        raise InvalidValueError(_("{url:quoted} is no address", url=url)) from fault
    plain = url.isascii() and url.isprintable() and " " not in url
    if parts.scheme not in ("https", "http") or not parts.hostname or not plain:
        raise InvalidValueError(_("a webhook's address is written as https://host/path"))
    if parts.username is not None or parts.password is not None or parts.fragment:
        raise InvalidValueError(_("a webhook's address names no user, no password and no place in a page"))
    return parts


def _addresses(host: str, port: int) -> list[Address]:
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
    except (OSError, UnicodeError) as fault:
        raise InvalidValueError(_("{host} is not known: check the name", host=host)) from fault
    return [_plain(ipaddress.ip_address(str(each[4][0]).partition("%")[0])) for each in found]


def _plain(address: Address) -> Address:
    mapped = getattr(address, "ipv4_mapped", None)
    return mapped or address


def _is_own(address: Address) -> bool:
    return any(address in ipaddress.ip_network(network) for network in settings.WEBHOOK_NETWORKS)


def _is_public(address: Address) -> bool:
    hidden = any(address.version == network.version and address in network for network in _HIDING)
    is_unicast = address.version == 4 or address in _UNICAST
    return address.is_global and is_unicast and not address.is_multicast and not hidden


def _connection(receiver: Receiver) -> http.client.HTTPConnection:
    """A connection to the address that was found fit, which a second look-up could not change."""
    if receiver.parts.scheme == "http":
        plain = http.client.HTTPConnection(receiver.host, receiver.port, timeout=SECONDS)
        plain._create_connection = lambda *_: _socket(receiver)  # type: ignore[attr-defined]
        return plain
    context = ssl.create_default_context()
    secure = http.client.HTTPSConnection(receiver.host, receiver.port, timeout=SECONDS, context=context)
    secure._create_connection = lambda *_: _socket(receiver)  # type: ignore[attr-defined]
    return secure


def _socket(receiver: Receiver) -> socket.socket:
    return socket.create_connection((receiver.address, receiver.port), SECONDS)
