"""The running of it: the Celery application is known wherever Django is."""

from django.apps import AppConfig

from planner.config.celery import app
from planner.config.sign_ins import watch_sign_ins


class RunningConfig(AppConfig):
    """Settles which Celery application queues work, in every thread of every process."""

    name = "planner.config"
    label = "running"

    def ready(self) -> None:
        """Make our Celery application the one that services queue on; watch who signs in."""
        app.set_default()
        watch_sign_ins()
