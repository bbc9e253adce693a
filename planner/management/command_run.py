"""One run of a long command: when it began, and whether somebody wishes it to end."""

import signal
import threading
from time import monotonic
from types import FrameType, TracebackType
from typing import Any, Self

SIGNALS = (signal.SIGINT, signal.SIGTERM)
PATIENCE_SECONDS = 10.0
"""How long further signals count as the same wish: some shells send several. Later ones end the process."""


class CommandRun:
    """Hears SIGINT and SIGTERM from `begin` on, so that a command can end with the best that it has.

    `manage.py` begins the run before anything else is loaded, for that takes longer than many a wish to stop;
    it then also counts towards the time that the command may take. A command called from within Python begins
    when it is entered, and gives the signals back at its end.
    """

    def __init__(self) -> None:
        self._forget()

    def _forget(self) -> None:
        self._begun: float | None = None
        self._wished: float | None = None
        self._given_back: dict[signal.Signals, Any] = {}
        self._whole_process = False

    def begin(self, *, whole_process: bool = False) -> None:
        """Begin to hear; `whole_process` where the process has nothing else to do than this command."""
        self._begun, self._whole_process = monotonic(), whole_process
        if threading.current_thread() is threading.main_thread():
            self._given_back = {number: signal.signal(number, self._hear) for number in SIGNALS}

    def __enter__(self) -> Self:
        """Begin, unless the process has begun already."""
        if self._begun is None:
            self.begin()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Hear no more: a signal after the plan is written must not spoil the exit code."""
        for number, handler in self._given_back.items():
            signal.signal(number, signal.SIG_IGN if self._whole_process else handler)
        self._forget()

    def seconds_gone(self) -> float:
        """Since the run began [s]."""
        return 0.0 if self._begun is None else monotonic() - self._begun

    def is_to_end(self) -> bool:
        """Whether somebody wished to stop."""
        return self._wished is not None

    def _hear(self, number: int, frame: FrameType | None) -> None:
        now = monotonic()
        if self._wished is None:
            self._wished = now
        elif now - self._wished > PATIENCE_SECONDS:
            signal.signal(number, signal.SIG_DFL)
            signal.raise_signal(number)


RUN = CommandRun()
"""The run of this process: signals come to processes, so there is one."""
