"""A site as it is answered and changed."""

from typing import Any

from rest_framework import serializers

from planner.selectors.nouns import Site


class SiteShape(serializers.ModelSerializer[Site]):
    """A site with the rules of its bay."""

    class Meta:
        """Everything but the row's own number."""

        model = Site
        exclude = ("id",)


class SiteChange(serializers.ModelSerializer[Site]):
    """What an administrator may change."""

    why = serializers.CharField(max_length=300, write_only=True)

    class Meta:
        """Code and currency stay."""

        model = Site
        exclude = ("id", "code", "currency")
        extra_kwargs: dict[str, Any] = {}
