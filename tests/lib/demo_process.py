"""The demo command as a person runs it: a process of its own, in a folder of its own."""

import os
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SECONDS_TO_START = 180
SECONDS_TO_END = 20


def free_port() -> int:
    """A port that nothing listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class DemoProcess:
    """A started demo, its output, and its end."""

    def __init__(self, folder: Path, *, port: int | None = None) -> None:
        self.port = port or free_port()
        self.output = folder / "output.txt"
        environment = {name: value for name, value in os.environ.items() if name != "DJANGO_SETTINGS_MODULE"}
        with self.output.open("w") as output:
            self.process = subprocess.Popen(
                [sys.executable, "manage.py", "demo", "--port", str(self.port)],
                cwd=ROOT,
                env=environment | {"TYREWRIGHT_VAR": str(folder)},
                stdin=subprocess.DEVNULL,
                stdout=output,
                stderr=subprocess.STDOUT,
            )

    def get(self, path: str) -> str:
        """The page at the path, as text; its status is 200 or this raises."""
        with urllib.request.urlopen(f"http://127.0.0.1:{self.port}{path}", timeout=10) as answer:
            return str(answer.read().decode())

    def wait_until_serving(self) -> None:
        """Return when the server answers; fail with its output when it ends or takes too long."""
        deadline = time.monotonic() + SECONDS_TO_START
        while "Tyrewright runs on" not in self.output.read_text():
            assert self.process.poll() is None and time.monotonic() < deadline, self.output.read_text()
            time.sleep(0.1)

    def end(self, by: int) -> int:
        """Send the signal and give the exit code; a demo that does not end is killed and fails the test."""
        self.process.send_signal(by)
        try:
            return self.process.wait(SECONDS_TO_END)
        except subprocess.TimeoutExpired:
            self.process.kill()
            raise

    def workers(self) -> list[int]:
        """The worker processes that read this demo's folder."""
        marker = f"TYREWRIGHT_VAR={self.output.parent}".encode()
        return [pid for pid in _processes("demo_worker") if marker in _read(f"/proc/{pid}/environ")]


def _processes(word: str) -> list[int]:
    every = (int(path.name) for path in Path("/proc").iterdir() if path.name.isdigit())
    return [pid for pid in every if word.encode() in _read(f"/proc/{pid}/cmdline")]


def _read(path: str) -> bytes:
    try:
        return Path(path).read_bytes()
    except OSError:
        return b""


def job_queue(folder: Path) -> Path:
    """Queue a job in the demo's folder while no demo runs; gives the folder that holds it."""
    send = "import django; django.setup(); from celery import current_app; "
    send += "current_app.send_task('planner.tasks.build_plan', args=[0])"
    environment = os.environ | {"TYREWRIGHT_VAR": str(folder)}
    environment["DJANGO_SETTINGS_MODULE"] = "planner.config.settings.embedded"
    subprocess.run([sys.executable, "-c", send], cwd=ROOT, env=environment, check=True)
    return folder / "queue" / "messages"
