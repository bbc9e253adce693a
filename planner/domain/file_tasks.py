"""Files that a worker reads in or writes out, beside the pages."""

from collections.abc import Callable
from enum import StrEnum

from planner.domain.permissions import Action


class FileTaskKind(StrEnum):
    """What a worker does with a file."""

    BOOKS_IMPORT = "books_import"
    SITE_IMPORT = "site_import"
    SITE_EXPORT = "site_export"
    REPAIRS_EXPORT = "repairs_export"

    @property
    def action(self) -> Action:
        """What somebody has to be allowed who asks for it, or reads what came of it."""
        return _ACTIONS[self]


class StoppedError(Exception):
    """Somebody called the work off; whatever it wrote is taken back."""


Pace = Callable[[], None]
"""Called with each row that is worked off; raises StoppedError where the work is to end."""

_ACTIONS = {
    FileTaskKind.BOOKS_IMPORT: Action.MONEY_CHANGE,
    FileTaskKind.SITE_IMPORT: Action.SITE_CHANGE,
    FileTaskKind.SITE_EXPORT: Action.SITE_CHANGE,
    FileTaskKind.REPAIRS_EXPORT: Action.MONEY_READ,
}


def no_pace() -> None:
    """The pace of work that nobody watches."""
