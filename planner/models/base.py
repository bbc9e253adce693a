"""What the nouns of a site have in common."""

from enum import StrEnum
from typing import Any, TypeVar

from django.db import models
from django.utils.functional import Promise

from planner.domain.errors import ConflictError
from planner.domain.sentences import _
from planner.models.choice_words import CHOICE_WORDS


def choices_of(words: type[StrEnum]) -> list[tuple[str, str | Promise]]:
    """A field's choices from the domain's own words, each as it is shown."""
    return [(word.value, CHOICE_WORDS[word.value]) for word in words]


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


_Row = TypeVar("_Row", bound=models.Model)


class WrittenOnceRows(models.QuerySet[_Row]):
    """Rows that are added and never touched again, also not many at once."""

    def update(self, **_values: object) -> int:
        """Refuse: such a row never changes."""
        raise ConflictError(_("what was signed never changes: add a correction instead"))

    def delete(self) -> tuple[int, dict[str, int]]:
        """Refuse: such a row is never removed."""
        raise ConflictError(_("what was signed is never removed"))


class WrittenOnce(SiteOwned):
    """Something of a site that is added once; saving it again or removing it raises ConflictError."""

    objects = WrittenOnceRows.as_manager()

    class Meta:
        abstract = True

    def save(self, *args: Any, **named: Any) -> None:
        """Add the row; ConflictError where it is there already."""
        if not self._state.adding:
            raise ConflictError(_("{row} was signed and never changes: add a correction instead", row=self))
        super().save(*args, **named)

    def delete(self, *_args: Any, **_named: Any) -> tuple[int, dict[str, int]]:
        """Refuse: such a row is never removed."""
        raise ConflictError(_("{row} was signed and is never removed", row=self))
