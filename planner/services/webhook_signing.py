"""Signing what is sent, by the open convention Standard Webhooks 1.0: HMAC-SHA256 over id, time and text.

The receiver works out the same over the very bytes it got, compares in constant time, refuses what is
older than some minutes and what it had before under the same id.
"""

import base64
import hashlib
import hmac

from django.utils.crypto import salted_hmac

_SALT = "tyrewright.webhook.secret"
PREFIX = "whsec_"


def secret_bytes(nonce: str) -> bytes:
    """The 32 bytes with which a receiver's messages are signed: made again each time, and kept nowhere."""
    return salted_hmac(_SALT, nonce, algorithm="sha256").digest()


def secret_text(nonce: str) -> str:
    """The secret as the receiver is given it."""
    return PREFIX + base64.b64encode(secret_bytes(nonce)).decode()


def signature(secret: bytes, *, event_id: str, timestamp: int, body: str) -> str:
    """The signature of one message, with the version of the convention before it."""
    signed = f"{event_id}.{timestamp}.{body}".encode()
    return "v1," + base64.b64encode(hmac.new(secret, signed, hashlib.sha256).digest()).decode()


def signed_headers(nonce: str, *, event_id: str, timestamp: int, body: str) -> dict[str, str]:
    """The three headers of one message."""
    return {
        "webhook-id": event_id,
        "webhook-timestamp": str(timestamp),
        "webhook-signature": signature(
            secret_bytes(nonce), event_id=event_id, timestamp=timestamp, body=body
        ),
    }
