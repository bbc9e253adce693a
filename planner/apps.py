"""The one Django app of the planner."""

from django.apps import AppConfig


class PlannerConfig(AppConfig):
    """Models, admin and tasks of Tyrewright."""

    name = "planner"
    verbose_name = "Tyrewright"
