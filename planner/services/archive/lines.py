"""A table as JSON lines: exact to the microsecond, the same on every database, one row at a time."""

import hashlib
from collections.abc import Iterable, Iterator
from datetime import date, datetime, time
from io import StringIO, TextIOWrapper
from typing import IO, Any

from django.core.serializers import deserialize
from django.core.serializers.json import DjangoJSONEncoder
from django.core.serializers.jsonl import Serializer
from django.db.models import Model, QuerySet

from planner.services.archive.manifest import TableTally

CHUNK_ROWS = 500


class _ExactEncoder(DjangoJSONEncoder):
    """Django's own drops what is finer than a millisecond, and the audit chain would break by it."""

    def default(self, value: Any) -> Any:
        return value.isoformat() if isinstance(value, datetime | date | time) else super().default(value)


class _Tally(StringIO):
    """A text stream that counts and digests what goes through it to `onward`."""

    def __init__(self, onward: IO[bytes] | None) -> None:
        super().__init__()
        self.rows = 0
        self.sha256 = hashlib.sha256()
        self._onward = onward

    def write(self, text: str) -> int:
        raw = text.encode()
        self.rows += text.count("\n")
        self.sha256.update(raw)
        if self._onward is not None:
            self._onward.write(raw)
        return len(text)


def lines_write(
    rows: QuerySet[Any], onward: IO[bytes] | None, seen: set[Any], people: list[str]
) -> TableTally:
    """Write the rows to `onward` (None: only count and digest them), gathering the people they name."""
    tally = _Tally(onward)
    fields = [field.name for field in rows.model._meta.concrete_fields]
    Serializer().serialize(
        _noting(rows.iterator(chunk_size=CHUNK_ROWS), seen, people),
        stream=tally,
        fields=fields,
        cls=_ExactEncoder,
        sort_keys=True,
    )
    return TableTally(rows=tally.rows, sha256=tally.sha256.hexdigest())


def lines_read(source: IO[bytes]) -> Iterator[Model]:
    """The rows of a member, one after another; DeserializationError where a line is none."""
    for row in deserialize("jsonl", TextIOWrapper(source, encoding="utf-8")):
        yield row.object


def _noting(rows: Iterable[Any], seen: set[Any], people: list[str]) -> Iterator[Any]:
    for row in rows:
        seen.update(getattr(row, name) for name in people)
        yield row
