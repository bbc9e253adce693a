"""A receiver of webhooks on the loopback, which checks signatures with code of its own."""

import base64
import hashlib
import hmac
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer


@dataclass(slots=True, kw_only=True)
class Receiver:
    """What came in, and what is answered: the first of `answers` at each call, the last one from then on."""

    url: str = ""
    answers: list[int] = field(default_factory=lambda: [204])
    paths: list[str] = field(default_factory=list)
    messages: list[tuple[dict[str, str], str]] = field(default_factory=list)


@contextmanager
def receiving() -> Iterator[Receiver]:
    """A receiver for the length of a test."""
    receiver = Receiver()

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            raw = self.rfile.read(int(self.headers["Content-Length"])).decode()
            receiver.paths.append(self.path)
            receiver.messages.append(({key.lower(): value for key, value in self.headers.items()}, raw))
            self.send_response(receiver.answers.pop(0) if len(receiver.answers) > 1 else receiver.answers[0])
            self.send_header("Location", "/elsewhere")
            self.send_header("Content-Length", "0")
            self.end_headers()

        def log_message(self, *_: object) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    receiver.url = f"http://127.0.0.1:{server.server_port}/hook?of=bay"
    thread = threading.Thread(target=server.serve_forever, args=(0.05,))
    thread.start()
    try:
        yield receiver
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


def is_signed(headers: dict[str, str], body: str, secret: str) -> bool:
    """Whether a message is what its sender signed: written from the convention, not from our code."""
    key = base64.b64decode(secret.removeprefix("whsec_"))
    text = ".".join((headers["webhook-id"], headers["webhook-timestamp"], body))
    expected = base64.b64encode(hmac.digest(key, text.encode(), hashlib.sha256)).decode()
    return any(
        hmac.compare_digest(given, f"v1,{expected}") for given in headers["webhook-signature"].split(" ")
    )
