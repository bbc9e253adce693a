"""Tests: the embedded settings in a folder of their own, a quick password hash, no broker."""

import os
import tempfile

os.environ.setdefault("TYREWRIGHT_VAR", tempfile.mkdtemp(prefix="tyrewright-test-"))

from planner.config.settings.embedded import *  # noqa: F403
from planner.config.settings.embedded import DATABASES, REST_FRAMEWORK, VAR

if os.environ.get("TYREWRIGHT_TEST_POSTGRES"):
    DATABASES["default"] = {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": os.environ["TYREWRIGHT_TEST_POSTGRES"],
        "HOST": os.environ.get("PGHOST", ""),
        "USER": os.environ.get("PGUSER", ""),
        # A load run keeps its connections, as a service does; a test's end with it.
        "CONN_MAX_AGE": int(os.environ.get("TYREWRIGHT_TEST_CONN_MAX_AGE", "0")),
        "CONN_HEALTH_CHECKS": True,
    }
else:
    DATABASES["default"]["TEST"] = {"NAME": VAR / "test.sqlite3"}

# A worker that a test starts works on that test's own database, fed by the Redis queue that the test names.
if os.environ.get("TYREWRIGHT_TEST_BROKER"):
    CELERY_BROKER_URL = os.environ["TYREWRIGHT_TEST_BROKER"]
    CELERY_BROKER_TRANSPORT_OPTIONS = {}
    DATABASES["default"]["NAME"] = os.environ["TYREWRIGHT_TEST_DATABASE"]

# As many calls as a load run wants.
if os.environ.get("TYREWRIGHT_TEST_UNTHROTTLED"):
    REST_FRAMEWORK["DEFAULT_THROTTLE_RATES"] = {"user": None, "address": None}

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
