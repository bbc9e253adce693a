"""A column of text that keeps a sentence with its template and figures."""

import json
from typing import Any

from django.db import models
from django.db.backends.base.base import BaseDatabaseWrapper

from planner.domain.sentences import Sentence, kept, recalled

_KEPT = '{"text": '
"""How the text of a sentence with figures begins; whatever begins otherwise is its own template."""


class SentenceField(models.TextField):  # type: ignore[type-arg]
    """Text that reads as the sentence it was, so that each reader can be told it in their language."""

    def from_db_value(self, value: str | None, *_more: Any) -> Sentence | None:
        """The sentence that was kept."""
        if value is None:
            return None
        return recalled(json.loads(value)) if value.startswith(_KEPT) else Sentence(value)

    def get_db_prep_value(self, value: Any, connection: BaseDatabaseWrapper, prepared: bool = False) -> Any:
        """Plain text where that is all of it."""
        row = kept(value) if isinstance(value, str) else value
        text = json.dumps(row) if isinstance(row, dict) else row
        return super().get_db_prep_value(text, connection, prepared)

    def deconstruct(self) -> Any:
        """As a column it is text: no migration need know more."""
        name, _path, positional, named = super().deconstruct()
        return name, "django.db.models.TextField", positional, named
