"""The signature of a webhook against the published example of Standard Webhooks 1.0 (its reference tests)."""

import base64

import pytest

from planner.services.webhook_signing import signature

# The example of the convention's own libraries; recalled, and its parts agree with one another.
SECRET = base64.b64decode("MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw")
ID, TIME, BODY = "msg_p5jXN8AQM9LWM0D4loKWxJek", 1614265330, '{"test": 2432232314}'
SIGNED = "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE="


def test_the_published_example_is_signed_as_published() -> None:
    assert signature(SECRET, event_id=ID, timestamp=TIME, body=BODY) == SIGNED


@pytest.mark.parametrize(
    ("event_id", "timestamp", "body"),
    [("msg_other", TIME, BODY), (ID, TIME + 1, BODY), (ID, TIME, BODY + " ")],
)
def test_whatever_changes_changes_the_signature(event_id: str, timestamp: int, body: str) -> None:
    assert signature(SECRET, event_id=event_id, timestamp=timestamp, body=body) != SIGNED
