"""A queue that points at a Redis that is not there."""

from typing import Any, cast

import pytest
from celery import current_app

NOWHERE = "redis://127.0.0.1:1/0"  # nothing ever listens there


def lose_broker(patch: pytest.MonkeyPatch) -> None:
    """Until the test ends; only what was changed is taken back: an address once set hides the settings."""
    changes = cast("dict[str, Any]", current_app.conf.changes)
    patch.setitem(changes, "broker_url", NOWHERE)
    patch.setitem(changes, "broker_transport_options", {})
