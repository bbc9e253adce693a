"""Places on the bay's floor."""

from django.db import models

from planner.models.base import NamedOnSite


class PositionKind(NamedOnSite):
    """What a place can be used for, in the site's own words, such as preparation or cure."""

    class Meta:
        ordering = ("code",)
        constraints = [models.UniqueConstraint(fields=("site", "code"), name="position_kind_code_on_site")]


class Position(NamedOnSite):
    """A place for one tyre at a time, up to a largest size."""

    kinds = models.ManyToManyField(PositionKind, related_name="positions")
    largest_size = models.CharField(max_length=24, blank=True, help_text="empty: any size fits")
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ("code",)
        constraints = [models.UniqueConstraint(fields=("site", "code"), name="position_code_on_site")]
