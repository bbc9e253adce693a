"""Numbers on the command line, refused in plain words where they make no sense."""

import math
from argparse import ArgumentTypeError
from collections.abc import Callable

_LONGEST_SECONDS = 86_400


def whole(least: int, most: int) -> Callable[[str], int]:
    """A reader of whole numbers from `least` to `most`."""

    def read(text: str) -> int:
        try:
            number = int(text)
        except ValueError:
            raise ArgumentTypeError(f"must be a whole number, not {text!r}") from None
        if not least <= number <= most:
            raise ArgumentTypeError(f"must be from {least} to {most}, not {number}")
        return number

    return read


def seconds(text: str) -> float:
    """A time in seconds, from 0 to a day; with 0 the dispatched plan is the answer."""
    return _number(text, _LONGEST_SECONDS)


def work_units(text: str) -> float:
    """An amount of solver work, from 0."""
    return _number(text, 1e9)


def _number(text: str, most: float) -> float:
    try:
        number = float(text)
    except ValueError:
        raise ArgumentTypeError(f"must be a number, not {text!r}") from None
    if math.isnan(number) or not 0 <= number <= most:
        raise ArgumentTypeError(f"must be from 0 to {most:g}, not {text}")
    return number
