"""Settings that every way of running shares."""

from pathlib import Path

from celery.schedules import crontab

from planner.config.settings.api import *  # noqa: F403
from planner.config.settings.safety import *  # noqa: F403
from planner.config.settings.safety import SAFETY_MIDDLEWARE

ROOT = Path(__file__).resolve().parents[3]

INSTALLED_APPS = [
    # The tables are loaded with the addresses: a command on files has no use for them.
    "django.contrib.admin.apps.SimpleAdminConfig",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "axes",
    "django_otp",
    "django_otp.plugins.otp_totp",
    "csp",
    "django_htmx",
    "rest_framework",
    "drf_spectacular",
    "drf_spectacular_sidecar",
    "planner.apps.PlannerConfig",
    "planner.config.apps.RunningConfig",
]

MIDDLEWARE = [
    "planner.config.request_log.RequestLogMiddleware",
    "planner.config.reading.ReadingMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "planner.config.nul.NulMiddleware",
    "planner.web.account.gate.GateMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    *SAFETY_MIDDLEWARE,
    "django_htmx.middleware.HtmxMiddleware",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "planner.config.urls"
WSGI_APPLICATION = "planner.config.wsgi.application"
AUTH_USER_MODEL = "planner.User"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign_in"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "planner" / "web" / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    },
]

LANGUAGE_CODE = "en"
# Another language is one more catalogue beside the English one, and a line here.
LANGUAGES = [("en", "English")]
LOCALE_PATHS = [ROOT / "planner" / "locale"]
TIME_ZONE = "UTC"
USE_I18N = True
USE_TZ = True

STATIC_URL = "static/"
STATICFILES_DIRS = [ROOT / "planner" / "web" / "static"]

CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_SERIALIZER = "json"
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_WORKER_SEND_TASK_EVENTS = False
CELERY_BEAT_SCHEDULE = {
    # A minute that no worker had time for is not made up for later.
    "reap builds": {"task": "planner.tasks.reap_builds", "schedule": 60.0, "options": {"expires": 55}},
    "resume work": {"task": "planner.tasks.resume_work", "schedule": 60.0, "options": {"expires": 55}},
    "sweep webhooks": {"task": "planner.tasks.sweep_webhooks", "schedule": 60.0, "options": {"expires": 55}},
    "apply retention": {"task": "planner.tasks.apply_retention", "schedule": crontab(hour="2", minute="17")},
    "watch alarms": {"task": "planner.tasks.watch_alarms", "schedule": 30.0, "options": {"expires": 25}},
}

# Days for which each is kept; `planner/services/retention.py` says what never goes.
RETENTION: dict[str, int] = {}

# Networks of the site's own whose addresses a webhook may have beside public ones.
WEBHOOK_NETWORKS: list[str] = []

# E-mail goes to the console unless a way of running says otherwise.
EMAIL_BACKEND = "django.core.mail.backends.console.EmailBackend"
EMAIL_TIMEOUT = 20
DEFAULT_FROM_EMAIL = "tyrewright@localhost"

# The bearer of this token may read /metrics; with none, only this machine may.
METRICS_TOKEN = ""


def logging_config(formatter: str, level: str) -> dict[str, object]:
    """Everything to standard error: `json` lines for a collector, `plain` ones for a person."""
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {
            "json": {"()": "planner.config.log_format.JsonFormatter"},
            "plain": {"format": "%(levelname)s %(name)s: %(message)s"},
        },
        "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": formatter}},
        "root": {"handlers": ["stderr"], "level": level},
        # Our own request line says it with the request's id.
        "loggers": {"django.server": {"propagate": False}, "celery": {"level": level}},
    }
