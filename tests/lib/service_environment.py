"""A whole and right environment for the service settings, to be broken one setting at a time."""

import os

SERVICE_ENVIRONMENT = {
    "DJANGO_SETTINGS_MODULE": "planner.config.settings.service",
    "PATH": os.environ.get("PATH", ""),
    "TYREWRIGHT_SECRET_KEY": "k7" * 20 + "0123456789abcdefghij",
    "TYREWRIGHT_METRICS_TOKEN": "m3" * 20,
    "TYREWRIGHT_HOSTS": "bay.example",
    "TYREWRIGHT_DATABASE_HOST": "127.0.0.1",
    "TYREWRIGHT_DATABASE_NAME": "tyrewright",
    "TYREWRIGHT_DATABASE_USER": "tyrewright",
    "TYREWRIGHT_DATABASE_PASSWORD": "not used",
    "TYREWRIGHT_REDIS_URL": "redis://127.0.0.1:6379/0",
    "TYREWRIGHT_REDIS_PASSWORD": "not used",
}
