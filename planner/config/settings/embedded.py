"""One machine, no server: SQLite and a file-system broker in one folder."""

import os
import secrets
from pathlib import Path
from typing import Any

from planner.config.settings.base import *  # noqa: F403
from planner.config.settings.base import ROOT, logging_config

VAR = Path(os.environ.get("TYREWRIGHT_VAR", ROOT / ".var")).resolve()
VAR.mkdir(parents=True, exist_ok=True)


def _own_secret() -> str:
    """The secret of this installation, made at the first start and kept in its folder."""
    path = VAR / "secret"
    if not path.exists():
        path.touch(mode=0o600)
        path.write_text(secrets.token_urlsafe(50))
    return path.read_text()


SECRET_KEY = _own_secret()
DEBUG = False
ALLOWED_HOSTS = ["127.0.0.1", "localhost"]
STATIC_ROOT = VAR / "static"
MEDIA_ROOT = VAR / "media"
WHITENOISE_USE_FINDERS = True
LOGGING = logging_config("plain", "WARNING")

DATABASES: dict[str, dict[str, Any]] = {
    "default": {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": VAR / "tyrewright.sqlite3",
        "OPTIONS": {
            # Whoever waits to write is not served in turn: one of eight waited 21 s on a machine under load.
            "timeout": 60,
            "transaction_mode": "IMMEDIATE",
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL;",
        },
    },
}

_QUEUE = VAR / "queue"
for _folder in (STATIC_ROOT, MEDIA_ROOT, *(_QUEUE / name for name in ("messages", "done", "control"))):
    _folder.mkdir(parents=True, exist_ok=True)

CELERY_BROKER_URL = "filesystem://localhost//"
CELERY_BROKER_TRANSPORT_OPTIONS = {
    "data_folder_in": str(_QUEUE / "messages"),
    "data_folder_out": str(_QUEUE / "messages"),
    "processed_folder": str(_QUEUE / "done"),
    "control_folder": str(_QUEUE / "control"),
    "store_processed": False,
    "polling_interval": 0.1,
}
