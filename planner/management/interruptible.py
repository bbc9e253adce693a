"""Long work on the command line that Ctrl-C ends with the best answer so far."""

import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Generic, TypeVar

from planner.domain.progress import StopSignal

Answer = TypeVar("Answer")

_SIGNALS = (signal.SIGINT, signal.SIGTERM)
_POLL_SECONDS = 0.1


class _Work(threading.Thread, Generic[Answer]):
    """The work in a thread of its own: the main thread must stay free to hear a signal."""

    def __init__(self, task: Callable[[StopSignal], Answer], stop: StopSignal) -> None:
        super().__init__(name="planning", daemon=True)
        self._task, self._stop_signal = task, stop
        self.answers: list[Answer] = []
        self.fault: BaseException | None = None

    def run(self) -> None:
        try:
            self.answers.append(self._task(self._stop_signal))
        except BaseException as fault:
            self.fault = fault


def interruptible(task: Callable[[StopSignal], Answer]) -> Answer:
    """Run a task whose stop signal the first SIGINT or SIGTERM gives; a second one acts as it always does.

    Raises whatever the task raises.
    """
    stop = threading.Event()
    work = _Work(task, stop.is_set)
    with _heard(stop):
        work.start()
        while work.is_alive():
            work.join(_POLL_SECONDS)
    if work.fault is not None:
        raise work.fault
    return work.answers[0]


@contextmanager
def _heard(stop: threading.Event) -> Iterator[None]:
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.getsignal(number) for number in _SIGNALS}

    def hear(_number: int, _frame: FrameType | None) -> None:
        stop.set()
        for number, handler in before.items():
            signal.signal(number, handler)

    for number in _SIGNALS:
        signal.signal(number, hear)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
