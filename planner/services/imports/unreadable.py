"""A cell that holds no value of its own."""

from dataclasses import dataclass

from planner.domain.sentences import Sentence


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A cell of a workbook that can't be taken as it stands, and why, after `a cell`."""

    why: Sentence
