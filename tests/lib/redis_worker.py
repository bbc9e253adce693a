"""A Celery worker on Redis, on the running test's own database, as processes of its own."""

import os
import signal
import subprocess
import sys
import uuid
from contextlib import suppress
from pathlib import Path
from typing import Any

from celery import Celery
from django.conf import settings
from django.db import connection
from redis import Redis

ROOT = Path(__file__).resolve().parents[2]
BROKER = "redis://127.0.0.1:6379/9"
SEARCH = "planner.solver.improvement.worker"


class RedisWorker:
    """Starts on a queue that no other test has; `send` takes the place of the application's own."""

    def __init__(self, log: Path, broker: str = BROKER) -> None:
        self.queue = f"test-{uuid.uuid4().hex}"
        self._broker = broker
        self._sender = Celery(broker=broker, set_as_current=False)
        self._log = log
        self.start()

    def start(self) -> None:
        """Start the processes; what is queued before they are up waits in Redis."""
        words = ["--app", "planner.config.celery", "worker", "--queues", self.queue, "--concurrency", "1"]
        quiet = ["--without-gossip", "--without-mingle", "--hostname", f"{self.queue}@localhost"]
        with self._log.open("w") as log:
            self._process = subprocess.Popen(
                ["nice", "-n", "10", sys.executable, "-m", "celery", *words, *quiet, "--loglevel", "INFO"],
                cwd=ROOT,
                env=worker_environment(self._broker),
                stdout=log,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )

    @property
    def log(self) -> str:
        """What it has written so far."""
        return self._log.read_text()

    def search_processes(self) -> list[int]:
        """The processes that its searches have started, whichever of its own processes they belong to."""
        found = []
        for folder in Path("/proc").iterdir():
            with suppress(OSError):
                if folder.name.isdecimal() and SEARCH in (folder / "cmdline").read_text().split("\0"):
                    found += [int(folder.name)] if self._is_below(int(folder.name)) else []
        return sorted(found)

    def _is_below(self, process: int) -> bool:
        while process > 1 and process != self._process.pid:
            # The fourth field is the parent; the second, a name in brackets, may hold spaces.
            process = int(Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[1])
        return process == self._process.pid

    def send(self, task: str, args: list[Any], **options: Any) -> None:
        """Queue a task by its name alone."""
        self._sender.send_task(task, args=args, queue=self.queue, **options)

    @property
    def has_taken_all(self) -> bool:
        """Whether nothing waits in its queue any more."""
        return not Redis.from_url(self._broker).llen(self.queue)

    def kill(self) -> None:
        """End all of its processes at once, as a lost machine does."""
        if self._process.poll() is None:
            os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()

    def end(self) -> None:
        """Kill it and leave nothing in Redis."""
        self.kill()
        Redis.from_url(self._broker).delete(self.queue)


def worker_environment(broker: str = BROKER) -> dict[str, str]:
    """The environment in which a process of its own works on the running test's database."""
    name = str(connection.settings_dict["NAME"])
    environment = os.environ | {
        "DJANGO_SETTINGS_MODULE": "planner.config.settings.testing",
        "TYREWRIGHT_VAR": str(settings.VAR),
        "TYREWRIGHT_TEST_BROKER": broker,
        "TYREWRIGHT_TEST_DATABASE": name,
    }
    return environment | ({"C_FORCE_ROOT": "1"} if os.geteuid() == 0 else {})
