"""What the nouns of a site have in common."""

from enum import StrEnum

from django.db import models


def choices_of(words: type[StrEnum]) -> list[tuple[str, str]]:
    """A field's choices from the domain's own words."""
    return [(word.value, word.value.replace("_", " ")) for word in words]


def one_of(field: str, words: type[StrEnum], name: str) -> models.CheckConstraint:
    """A constraint that keeps `field` to the domain's own words in the database too."""
    return models.CheckConstraint(
        condition=models.Q(**{f"{field}__in": [word.value for word in words]}), name=name
    )


class SiteOwned(models.Model):
    """Something that belongs to one site; `version` counts its changes."""

    site = models.ForeignKey("planner.Site", on_delete=models.PROTECT, related_name="+")
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        abstract = True


class NamedOnSite(SiteOwned):
    """Something with a short code that is its own on its site, and a name to read."""

    code = models.SlugField(max_length=40)
    name = models.CharField(max_length=120)

    class Meta:
        abstract = True

    def __str__(self) -> str:
        return self.name
