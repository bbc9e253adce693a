"""What stands on the wire before Django sees it: two lengths, broken chunks, bent headers.

RFC 9112, sections 2.2, 5.1, 5.2, 6.1, 6.3 and 11.2 (request smuggling). The web server answers with its own
settings; what it cannot read for sure is refused, and nothing that follows on the connection is answered.
A caller who never ends a request is the proxy's to hold: it sends on what it has read whole.
"""

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.lib.demo_process import free_port

ROOT = Path(__file__).resolve().parents[3]
HIDDEN = b"GET /healthz HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"


@pytest.fixture(scope="module")
def port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """The web server as the image starts it, on a port of the loopback."""
    port = free_port()
    words = ["planner.config.wsgi", "--config", ".docker/gunicorn.py", "--bind", f"127.0.0.1:{port}"]
    environment = os.environ | {
        "DJANGO_SETTINGS_MODULE": "planner.config.settings.embedded", "TYREWRIGHT_TEST_POSTGRES": "",
        "TYREWRIGHT_VAR": str(tmp_path_factory.mktemp("wire")),
    }  # fmt: skip
    server = subprocess.Popen(
        [sys.executable, "-m", "gunicorn", *words, "--workers", "1", "--log-level", "critical"],
        cwd=ROOT, env=environment,
    )  # fmt: skip
    try:
        deadline = time.monotonic() + 90
        while not _said(port, HIDDEN).startswith(b"HTTP/1.1 200"):
            assert server.poll() is None and time.monotonic() < deadline
            time.sleep(0.2)
        yield port
    finally:
        server.terminate()
        server.wait(30)


def _said(port: int, raw: bytes, seconds: float = 5) -> bytes:
    """All that comes back of these bytes until the server closes, or has said nothing more for a moment."""
    said = b""
    try:
        with socket.create_connection(("127.0.0.1", port), seconds) as line:
            line.sendall(raw)
            line.settimeout(seconds)
            while part := line.recv(65536):
                said += part
                line.settimeout(1)
    except OSError:
        pass
    return said


def _post(*headers: bytes, body: bytes = b"", line: bytes = b"POST /healthz HTTP/1.1") -> bytes:
    return b"\r\n".join([line, b"Host: 127.0.0.1", *headers, b"", b""]) + body


SMUGGLED = {
    "a length and chunks": _post(
        b"Content-Length: 4", b"Transfer-Encoding: chunked", body=b"0\r\n\r\n" + HIDDEN
    ),
    "two lengths": _post(b"Content-Length: 0", b"Content-Length: 44", body=HIDDEN),
    "two lengths in one": _post(b"Content-Length: 0, 44", body=HIDDEN),
    "a length below nothing": _post(b"Content-Length: -1", body=HIDDEN),
    "a length with a sign": _post(b"Content-Length: +0", body=HIDDEN),
    "a length in other digits": _post("Content-Length: \u0664".encode(), body=HIDDEN),
    "an unheard of coding": _post(b"Transfer-Encoding: xchunked", body=b"0\r\n\r\n" + HIDDEN),
    "a coding not last": _post(b"Transfer-Encoding: chunked, gzip", body=b"0\r\n\r\n" + HIDDEN),
    "two codings": _post(
        b"Transfer-Encoding: chunked", b"Transfer-Encoding: identity", body=b"0\r\n\r\n" + HIDDEN
    ),
    "a space before the colon": _post(b"Transfer-Encoding : chunked", body=b"0\r\n\r\n" + HIDDEN),
    "a folded line": _post(b"Transfer-Encoding:", b" chunked", body=b"0\r\n\r\n" + HIDDEN),
    "a NUL in a header": _post(b"X-One: a\0b", body=HIDDEN),
    "a return in a header": _post(b"X-One: a\rX-Two: b", body=HIDDEN),
    "no version": b"GET /healthz\r\n\r\n" + HIDDEN,
    "a strange version": _post(line=b"GET /healthz HTTP/1.7x", body=HIDDEN),
    "too long a line": b"GET /" + b"a" * 9000 + b" HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n",
    "too many headers": _post(*(b"X-%d: a" % number for number in range(200)), line=b"GET /healthz HTTP/1.1"),
    "too large a header": _post(b"X-One: " + b"a" * 20_000, line=b"GET /healthz HTTP/1.1"),
}


@pytest.mark.parametrize("kind", SMUGGLED)
def test_what_can_be_read_in_two_ways_is_refused_and_nothing_after_it_is_answered(
    port: int, kind: str
) -> None:
    said = _said(port, SMUGGLED[kind])
    first = said.partition(b"\r\n")[0]
    assert first == b"" or first.split()[1] in (b"400", b"414", b"431", b"501", b"505"), first
    assert said.count(b"HTTP/1.1 ") <= 1
    assert b'"status": "ok"' not in said


@pytest.mark.parametrize(
    "chunks",
    [
        b"zz\r\nabc\r\n0\r\n\r\n",
        b"-1\r\na\r\n0\r\n\r\n",
        b"5\r\nabc\r\n0\r\n\r\n",
        b"0x3\r\nabc\r\n0\r\n\r\n",
    ],
)
def test_a_broken_chunk_is_no_body_and_ends_the_connection(port: int, chunks: bytes) -> None:
    line = b"POST /api/v1/sites/ HTTP/1.1"
    sent = _post(
        b"Transfer-Encoding: chunked", b"Content-Type: application/json", body=chunks + HIDDEN, line=line
    )
    said = _said(port, sent)
    assert b'"status": "ok"' not in said
    assert said == b"" or said.split()[1].startswith(b"4"), said[:80]


def test_headers_that_a_caller_forges_by_underscores_are_not_read(port: int) -> None:
    line = b"GET /metrics HTTP/1.1"
    plain = _said(port, _post(b"Connection: close", line=line))
    forged = _said(port, _post(b"X_Forwarded_For: 192.0.2.1", b"Connection: close", line=line))
    assert plain.split()[1] == forged.split()[1]
