"""The demo's worker: a Celery process that lives and ends with the demo command."""

import os
import signal
import subprocess
import sys
import threading
from types import TracebackType
from typing import Self

from celery.__main__ import main as celery
from django.conf import settings

SECONDS_TO_END = 5
# Celery warns of pickled jobs under root; ours are JSON alone.
PYTHON = [sys.executable, "-W", "ignore:You're running the worker", "-m", "planner.management.demo_worker"]
ARGUMENTS = ["--quiet", "--app", "planner.config.celery", "worker", "--pool", "solo", "--loglevel", "WARNING"]
ALONE = ["--without-gossip", "--without-mingle", "--without-heartbeat"]


class DemoWorker:
    """A context: within it a worker takes jobs from the queue.

    The worker runs in a session of its own, so that Ctrl-C reaches it through this process alone,
    in order: the web server first, then the worker. A job that it could not end in time is taken
    up again, or reported, at the next start.
    """

    def __enter__(self) -> Self:
        """Start the worker, holding the other end of its standard input."""
        self._process = subprocess.Popen(  # noqa: S603 - a fixed command of our own
            [*PYTHON, *ARGUMENTS, *ALONE], cwd=settings.ROOT, stdin=subprocess.PIPE, start_new_session=True
        )
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Ask the worker to end, and end it when it does not."""
        self._process.terminate()
        try:
            self._process.wait(SECONDS_TO_END)
        except subprocess.TimeoutExpired:
            self._process.kill()
        self._process.communicate()


def _end_with_parent() -> None:
    """Wait for standard input to close: the demo command is gone, even when it was killed."""
    sys.stdin.read()
    os.kill(os.getpid(), signal.SIGTERM)


if __name__ == "__main__":
    threading.Thread(target=_end_with_parent, daemon=True).start()
    celery()
