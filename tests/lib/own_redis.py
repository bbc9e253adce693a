"""A Redis of the test's own, that may be lost and come back empty."""

import socket
import subprocess
import time
from typing import Self

from redis import Redis
from redis.exceptions import RedisError

SECONDS_TO_START = 60


class OwnRedis:
    """On a free port of the loopback, keeping nothing on disk."""

    def __init__(self, password: str = "") -> None:
        self._password = password
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self._port = int(probe.getsockname()[1])
        self.start()

    @property
    def url(self) -> str:
        """What a worker and a sender are given."""
        return f"redis://{f':{self._password}@' if self._password else ''}127.0.0.1:{self._port}/0"

    def start(self) -> None:
        """Empty, whatever was in it before."""
        words = ["--port", str(self._port), "--bind", "127.0.0.1", "--save", "", "--appendonly", "no"]
        words += ["--requirepass", self._password] if self._password else []
        self._process = subprocess.Popen(["redis-server", *words], stdout=subprocess.DEVNULL)
        deadline = time.monotonic() + SECONDS_TO_START
        with Redis.from_url(self.url) as client:
            while not self._answers(client):
                assert self._process.poll() is None and time.monotonic() < deadline, "Redis does not start"
                time.sleep(0.02)

    @staticmethod
    def _answers(client: Redis) -> bool:
        try:
            return bool(client.ping())
        except RedisError:
            return False

    def kill(self) -> None:
        """At once, as a lost machine."""
        self._process.kill()
        self._process.wait()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.kill()
