"""The running of it: the Celery application is known wherever Django is."""

from django.apps import AppConfig

from planner.config.celery import app


class RunningConfig(AppConfig):
    """Settles which Celery application queues work, in every thread of every process."""

    name = "planner.config"
    label = "running"

    def ready(self) -> None:
        """Make our Celery application the one that services queue on."""
        app.set_default()
