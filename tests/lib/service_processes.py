"""The service's processes as `docker-compose.yml` and the image start them, here and on the loopback."""

import getpass
import os
import secrets
import signal
import subprocess
import sys
import time
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import psycopg
import yaml

from tests.lib.demo_process import free_port
from tests.lib.own_redis import OwnRedis
from tests.lib.service_environment import SERVICE_ENVIRONMENT

ROOT = Path(__file__).resolve().parents[2]
SERVICES: dict[str, dict[str, Any]] = yaml.safe_load((ROOT / "docker-compose.yml").read_text())["services"]
HOST = os.environ.get("PGHOST") or "127.0.0.1"
WEB = ["gunicorn", "planner.config.wsgi", "--config", ".docker/gunicorn.py"]
STARTED = ("beat", "messenger", "mailer", "worker", "web")
SECRETS = {name for name in SERVICES["web"]["environment"] if name.endswith("_FILE")}
SECONDS_TO_END = 60


class ServiceProcesses:
    """A context: a database and a queue of its own, secrets in files, and the four processes of ours."""

    def __init__(self, folder: Path) -> None:
        self.port = free_port()
        self._folder = folder
        self._queue_password = f"queue-{secrets.token_hex(8)}"
        self._redis = OwnRedis(password=self._queue_password)
        self._database = f"tyrewright_served_{secrets.token_hex(4)}"
        by_value = {
            name: value for name, value in SERVICE_ENVIRONMENT.items() if f"{name}_FILE" not in SECRETS
        }
        self._environment = by_value | self._settings()
        self._started: dict[str, subprocess.Popen[bytes]] = {}

    def __enter__(self) -> Self:
        try:
            self._start()
        except BaseException:
            self.__exit__(None, None, None)
            raise
        return self

    def _start(self) -> None:
        self._sql(f"create database {self._database}")
        self.manage("migrate", "--noinput")
        self.manage("collectstatic", "--noinput", "--verbosity", "0")
        for name in STARTED:
            with self.log(name).open("wb") as log:
                self._started[name] = subprocess.Popen(
                    self._words(name), cwd=ROOT, env=self._environment, stdout=log, stderr=subprocess.STDOUT
                )

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        for process in self._started.values():
            if process.poll() is None:
                process.kill()
                process.wait()
        self._redis.kill()
        self._sql(f"drop database if exists {self._database} with (force)")

    def manage(self, *words: str, typed: str = "") -> str:
        """A command of `manage.py` under the service's settings; what it says."""
        command = [sys.executable, "manage.py", *words]
        done = subprocess.run(
            command, cwd=ROOT, env=self._environment, input=typed, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    def log(self, name: str) -> Path:
        """Where a process writes."""
        return self._folder / f"{name}.log"

    def lives(self, name: str) -> bool:
        """Whether the process runs."""
        return self._started[name].poll() is None

    def wait_for(self, name: str, words: str, seconds: float = 90) -> None:
        """Until a process has written the words."""
        deadline = time.monotonic() + seconds
        while words not in self.log(name).read_text():
            assert self.lives(name) and time.monotonic() < deadline, self.log(name).read_text()[-3000:]
            time.sleep(0.1)

    def end(self, name: str) -> int:
        """Ask the process to end, as an engine does; its exit code."""
        self._started[name].send_signal(signal.SIGTERM)
        return self._started[name].wait(SECONDS_TO_END)

    def _words(self, name: str) -> list[str]:
        """The command of the compose file, in this environment and folder."""
        words = [*WEB, "--bind", f"127.0.0.1:{self.port}"] if name == "web" else SERVICES[name]["command"]
        python = {each: [sys.executable, "-m", each] for each in ("celery", "gunicorn")}
        moved = [word.replace("/tmp/", f"{self._folder}/") for word in words]  # noqa: S108 (the container's)
        return [part for word in moved for part in python.get(word, [word])]

    def _settings(self) -> dict[str, str]:
        """What differs from the compose file: where database and queue are, and where secrets lie."""
        told = {
            "TYREWRIGHT_DATABASE_HOST": HOST, "TYREWRIGHT_DATABASE_NAME": self._database,
            "TYREWRIGHT_DATABASE_USER": os.environ.get("PGUSER") or getpass.getuser(),
            "TYREWRIGHT_REDIS_URL": f"redis://{self._redis.url.rpartition('@')[2]}",
            "TYREWRIGHT_STATIC": str(self._folder / "static"),
            "TYREWRIGHT_FILES": str(self._folder / "files"),
        }  # fmt: skip
        kept = {
            "SECRET_KEY": secrets.token_urlsafe(50), "METRICS_TOKEN": secrets.token_urlsafe(30),
            "DATABASE_PASSWORD": os.environ.get("PGPASSWORD") or "trusted",
            "REDIS_PASSWORD": self._queue_password,
        }  # fmt: skip
        for name, secret in kept.items():
            path = self._folder / name.lower()
            path.touch(mode=0o600)
            path.write_text(secret + "\n")
            told[f"TYREWRIGHT_{name}_FILE"] = str(path)
        return told | ({"C_FORCE_ROOT": "1"} if os.geteuid() == 0 else {})

    def _sql(self, statement: str) -> None:
        with psycopg.connect(host=HOST, dbname="postgres", autocommit=True) as database:
            database.execute(statement)  # type: ignore[call-overload]
