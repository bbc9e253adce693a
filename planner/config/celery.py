"""The Celery application: tasks are named in `planner.tasks` and queued by name."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.config.settings.embedded")

app = Celery("tyrewright")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(["planner"])
