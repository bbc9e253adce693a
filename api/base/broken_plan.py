"""Changes of the bay that may break the published plan: refused with what would break, until accepted."""

from typing import Any

from rest_framework import serializers


class BrokenPlan(serializers.Serializer[Any]):
    """Whether a change is made even where the published plan then no longer holds.

    Else such a change is answered by 409 `breaks_plan`, each broken rule among its faults, and is not made.
    """

    accept_broken_plan = serializers.BooleanField(
        default=False,
        help_text="make it even where the published plan then no longer holds; supervisors are told",
    )
