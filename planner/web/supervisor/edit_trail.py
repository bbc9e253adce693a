"""Undo and redo: every edit makes a draft of its own, and the session remembers the way through them."""

from collections.abc import MutableMapping
from dataclasses import dataclass
from typing import Any

_LONGEST = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """The drafts before and after the one that is shown, by their ids."""

    undo: int | None
    redo: int | None


class EditTrail:
    """The drafts of one site in the order in which this reader made them."""

    def __init__(self, session: MutableMapping[str, Any], site: str) -> None:
        self._session = session
        self._key = f"edit_trail:{site}"

    @property
    def _ids(self) -> list[int]:
        return list(self._session.get(self._key, []))

    def around(self, plan_id: int) -> Around:
        """Where undo and redo lead from this draft."""
        ids = self._ids
        if plan_id not in ids:
            return Around(undo=None, redo=None)
        at = ids.index(plan_id)
        return Around(undo=ids[at - 1] if at else None, redo=ids[at + 1] if at + 1 < len(ids) else None)

    def step(self, before: int, after: int) -> None:
        """An edit made `after` from `before`; what was undone can no longer be redone."""
        ids = self._ids
        kept = ids[: ids.index(before) + 1] if before in ids else [before]
        self._session[self._key] = [*kept, after][-_LONGEST:]
