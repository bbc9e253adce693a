"""Strict JSON: UTF-8, bounded in size, every number finite, no key twice."""

import json
import math
from typing import Never

from planner.scheduling.faults import Fault, FaultyFileError

MOST_BYTES = 16 * 1024 * 1024
"""Largest file that is read: over twenty times a backlog of 300 jobs over three weeks."""

_MOST_DIGITS = 18


class DoubledObject(dict[str, object]):
    """A JSON object in which at least one key stands more than once; the reader names them at its place."""

    doubled: tuple[str, ...] = ()


def json_read(raw: bytes) -> object:
    """The value of a JSON text.

    NaN and numbers beyond all measure come back as float nan and inf, doubled keys as `DoubledObject`:
    the shape that meets them knows the place to name.

    Raises:
        FaultyFileError: too large, empty, not UTF-8, not JSON, or nested too deeply.

    """
    text = _decoded(raw)
    try:
        value: object = json.loads(
            text, object_pairs_hook=_object, parse_int=_whole, parse_float=float, parse_constant=_constant
        )
    except json.JSONDecodeError as error:
        _refuse(f"not JSON: {error.msg} at line {error.lineno}, column {error.colno}")
    except RecursionError:
        _refuse("not readable: lists or objects are nested too deeply")
    return value


def size_check(size_bytes: int) -> None:
    """Refuse a file by its size alone, before it is read [bytes].

    Raises:
        FaultyFileError: the file is larger than `MOST_BYTES`.

    """
    if size_bytes > MOST_BYTES:
        size_mb, most_mb = size_bytes / 1024**2, MOST_BYTES // 1024**2
        _refuse(f"the file is too large: {size_mb:.1f} MB, at most {most_mb} MB are read")


def _refuse(message: str) -> Never:
    raise FaultyFileError((Fault("", message),)) from None


def _decoded(raw: bytes) -> str:
    size_check(len(raw))
    if not raw.strip():
        _refuse("the file is empty")
    if raw.startswith(b"\xef\xbb\xbf"):
        _refuse("the file starts with a byte order mark: save it as UTF-8 without one")
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        _refuse(f"the file is not UTF-8: byte {error.start} cannot be read")


def _whole(digits: str) -> float | int:
    if len(digits) > _MOST_DIGITS:
        return -math.inf if digits.startswith("-") else math.inf
    return int(digits)


def _constant(name: str) -> float:
    return float(name.replace("Infinity", "inf"))


def _object(pairs: list[tuple[str, object]]) -> dict[str, object]:
    plain = dict(pairs)
    if len(plain) == len(pairs):
        return plain
    seen: set[str] = set()
    doubled = [name for name, _ in pairs if name in seen or seen.add(name)]  # type: ignore[func-returns-value]
    result = DoubledObject(plain)
    result.doubled = tuple(dict.fromkeys(doubled))
    return result
