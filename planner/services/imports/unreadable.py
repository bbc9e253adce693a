"""A cell that holds no value of its own."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A cell of a workbook that can't be taken as it stands, and why, after `a cell`."""

    why: str
