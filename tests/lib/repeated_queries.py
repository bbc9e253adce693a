"""Queries of one answer that differ only in their values: one for each row where one for all would do."""

import re
from collections import Counter
from collections.abc import Iterable

_LITERAL = re.compile(r"'(?:[^']|'')*'|\b\d+(?:\.\d+)?\b|\bNULL\b")
_LIST = re.compile(r"\(\s*\?(?:\s*,\s*\?)*\s*\)")


def shape_of(sql: str) -> str:
    """The query without its values; a list of any length is one list.

    >>> shape_of("SELECT 1 FROM t WHERE a = 'x''y' AND b IN (1, 2, 3)")
    'SELECT ? FROM t WHERE a = ? AND b IN (?)'

    """
    return _LIST.sub("(?)", _LITERAL.sub("?", sql))


def repeated(queries: Iterable[str], most: int) -> dict[str, int]:
    """The shapes that were asked more than `most` times, with how often.

    >>> repeated(["SELECT a WHERE id = 1", "SELECT a WHERE id = 2", "SELECT b"], most=1)
    {'SELECT a WHERE id = ?': 2}

    """
    counted = Counter(shape_of(sql) for sql in queries if not sql.startswith(("SAVEPOINT", "RELEASE")))
    return {shape: count for shape, count in counted.items() if count > most}
