"""In service: PostgreSQL, Redis and a proxy with TLS; every setting from the environment, none assumed."""

import os
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlsplit, urlunsplit

from planner.config.environment import Environment
from planner.config.settings.base import *  # noqa: F403
from planner.config.settings.base import MIDDLEWARE, ROOT, logging_config
from planner.domain.permissions import Role

_environment = Environment(os.environ)
LOG_LEVELS = ("INFO", "DEBUG", "WARNING", "ERROR")


def _with_password(url: str, password: str) -> str:
    """The broker's address with the password that its own file holds."""
    parts = urlsplit(url)
    return urlunsplit(parts._replace(netloc=f":{quote(password, safe='')}@{parts.netloc.rpartition('@')[2]}"))


SECRET_KEY = _environment.secret("SECRET_KEY", least_length=50)
METRICS_TOKEN = _environment.secret("METRICS_TOKEN", least_length=20)
DEBUG = False
ALLOWED_HOSTS = _environment.hosts("HOSTS")
CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in ALLOWED_HOSTS]
STATIC_ROOT = Path(_environment.text("STATIC", str(ROOT / ".var" / "static")))
MEDIA_ROOT = Path(_environment.text("FILES", str(ROOT / ".var" / "media")))
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.ManifestStaticFilesStorage"},
}

DATABASES: dict[str, dict[str, Any]] = {
    "default": {
        "ENGINE": "django.db.backends.postgresql",
        "HOST": _environment.text("DATABASE_HOST"),
        "PORT": _environment.integer("DATABASE_PORT", 5432, least=1, most=65535),
        "NAME": _environment.text("DATABASE_NAME"),
        "USER": _environment.text("DATABASE_USER"),
        "PASSWORD": _environment.secret("DATABASE_PASSWORD"),
        "CONN_MAX_AGE": 60,
        "CONN_HEALTH_CHECKS": True,
    },
}

CELERY_BROKER_URL = _with_password(
    _environment.url("REDIS_URL", "redis", "rediss"), _environment.secret("REDIS_PASSWORD")
)
# Longer than the longest task may run, or Redis would hand a running build to a second worker.
CELERY_BROKER_TRANSPORT_OPTIONS = {"visibility_timeout": 3600}
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_TASK_SOFT_TIME_LIMIT = _environment.integer("TASK_SECONDS", 900, least=60, most=3000)
CELERY_TASK_TIME_LIMIT = CELERY_TASK_SOFT_TIME_LIMIT + 60
# They would wait for minutes behind a plan in the making: `messenger` takes them. Letters, which a mail host
# may hold up, are for `mailer`.
CELERY_TASK_ROUTES = {
    f"planner.tasks.{name}": {"queue": "prompt"}
    for name in ("deliver_webhook", "sweep_webhooks", "watch_alarms", "reap_builds", "resume_work")
} | {"planner.tasks.mail_notice": {"queue": "mail"}}
CELERY_WORKER_MAX_MEMORY_PER_CHILD = 2_000_000  # KiB: a child that leaks is replaced after its task
CACHES = {
    "default": {
        "BACKEND": "planner.config.patient_cache.PatientRedisCache",
        "LOCATION": CELERY_BROKER_URL,
        # A lost Redis must not hold a page up.
        "OPTIONS": {"socket_connect_timeout": 0.5, "socket_timeout": 2},
    }
}

MIDDLEWARE = ["planner.config.proxy.ProxiedAddressMiddleware", *MIDDLEWARE]
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
SECURE_SSL_REDIRECT = True
# Asked from inside the container network, where there is no TLS.
SECURE_REDIRECT_EXEMPT = [r"^healthz$", r"^readyz$", r"^metrics$"]
SECURE_HSTS_SECONDS = 365 * 24 * 3600
SECURE_HSTS_INCLUDE_SUBDOMAINS = True
SECURE_HSTS_PRELOAD = True
SESSION_COOKIE_SECURE = True
CSRF_COOKIE_SECURE = True
SESSION_COOKIE_NAME = "__Host-session"
CSRF_COOKIE_NAME = "__Host-csrf"

RETENTION = {
    name: _environment.integer(f"KEEP_{name.upper()}", days, least=7, most=36500)
    for name, days in (
        ("drafts", 90), ("builds", 365), ("webhook_deliveries", 90), ("alarms", 365), ("tokens", 365),
    )
}  # fmt: skip
CODES_FOR = _environment.words("CODES_FOR", *Role)
WEBHOOK_NETWORKS = _environment.networks("WEBHOOK_NETWORKS")
# Without a mail host notices stay in the app.
EMAIL_HOST = _environment.optional("MAIL_HOST")
EMAIL_BACKEND = f"django.core.mail.backends.{'smtp' if EMAIL_HOST else 'dummy'}.EmailBackend"
EMAIL_PORT = _environment.integer("MAIL_PORT", 587, least=1, most=65535)
EMAIL_USE_TLS = True
EMAIL_HOST_USER = _environment.optional("MAIL_USER")
EMAIL_HOST_PASSWORD = _environment.secret("MAIL_PASSWORD") if EMAIL_HOST_USER else ""
DEFAULT_FROM_EMAIL = (
    _environment.text("MAIL_FROM")
    if EMAIL_HOST
    else _environment.optional("MAIL_FROM") or "tyrewright@localhost"
)

LOGGING = logging_config("json", _environment.choice("LOG_LEVEL", *LOG_LEVELS))

_environment.done()
