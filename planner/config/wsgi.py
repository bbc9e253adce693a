"""The web server's way in."""

import os

from django.core.wsgi import get_wsgi_application
from django.urls import resolve

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.config.settings.embedded")

application = get_wsgi_application()
# Every page is loaded before the first reader comes, not while they wait.
resolve("/healthz")
