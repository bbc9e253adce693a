"""Beside a long search: a thread that reads from the database whether somebody wants it to stop."""

import threading
from abc import ABC, abstractmethod
from types import TracebackType
from typing import Self

from django.db import connection


class SideWatch(ABC):
    """A thread of its own while the search runs.

    `stop` may be called from any thread and never touches the database, so a search is as fast with a
    watch as without. The thread ends, and its connection with it, when the `with` block is left.
    """

    def __init__(self, name: str) -> None:
        self._stop, self._over = threading.Event(), threading.Event()
        self._thread = threading.Thread(target=self._run, name=name, daemon=True)

    def stop(self) -> bool:
        """Whether to end with the best found so far; the stop signal of a search."""
        return self._stop.is_set()

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._over.set()
        self._thread.join()

    def _run(self) -> None:
        try:
            self._watch()
        finally:
            connection.close()

    @abstractmethod
    def _watch(self) -> None:
        """Until `_over` is set: look, and set `_stop` when the search is to end."""
