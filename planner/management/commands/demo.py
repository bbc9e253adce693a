"""Run the whole of Tyrewright on this machine with its demo site: `manage.py demo`."""

import contextlib
import signal
import socket
from argparse import ArgumentParser
from datetime import timedelta
from types import FrameType
from typing import Any

from django.conf import settings
from django.core.management import call_command, get_commands
from django.core.management.base import BaseCommand, CommandError
from django.core.wsgi import get_wsgi_application
from waitress.server import BaseWSGIServer, MultiSocketServer, create_server

from planner.management.demo_worker import DemoWorker
from planner.services.file_tasks.ending import file_tasks_resume
from planner.services.lever_endings import levers_resume
from planner.services.plan_builds import plan_build_reap

ADDRESS = "127.0.0.1"
FIRST_PORT = 8000
PORTS_TRIED = 100
WEB_THREADS = 8


class Command(BaseCommand):
    """Database, demo site, worker and web server in one command; Ctrl-C ends them all."""

    help = "Start the demo site on this machine: its database, a worker and the web server."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Offer the port; without one, the first free one from 8000 on."""
        parser.add_argument(
            "--port", type=int, help="port on 127.0.0.1 (default: 8000, or the next free one)"
        )

    def handle(self, *_: Any, port: int | None = None, **__: Any) -> None:
        """Prepare the database, then serve until Ctrl-C or SIGTERM."""
        _refuse_service()
        server_port = _port_find(port)
        call_command("migrate", verbosity=0)
        self._load_demo_site()
        # Ours is the only worker: what looks running died with it.
        plan_build_reap(silent_for=timedelta(0))
        levers_resume(silent_for=timedelta(0))
        file_tasks_resume(silent_for=timedelta(0))
        for ending in (signal.SIGINT, signal.SIGTERM):
            signal.signal(ending, _stop)
        with contextlib.suppress(KeyboardInterrupt):
            self._serve(server_port)
        self.stdout.write("Stopped. The demo site is kept; the same command starts it again.")

    def _load_demo_site(self) -> None:
        """Load the site at the first start; a later one keeps what is there."""
        if "load_demo_site" in get_commands():
            call_command("load_demo_site", stdout=self.stdout)

    def _serve(self, port: int) -> None:
        """Start the worker beside the web server, and stop it with the web server."""
        server = create_server(
            get_wsgi_application(), host=ADDRESS, port=port, threads=WEB_THREADS, ident=None
        )
        with DemoWorker():
            self.stdout.write(f"\nTyrewright runs on http://{ADDRESS}:{port}/ — Ctrl-C stops it.")
            self.stdout.flush()
            _run(server)


def _run(server: MultiSocketServer | BaseWSGIServer) -> None:
    """Serve until interrupted; open requests get waitress's own few seconds to end."""
    try:
        server.run()
    finally:
        server.close()


def _refuse_service() -> None:
    """The demo has known passwords, so it never runs on the database of a service."""
    if settings.DATABASES["default"]["ENGINE"] != "django.db.backends.sqlite3":
        raise CommandError("The demo has known passwords; it runs under the embedded settings only.")


def _port_find(asked: int | None) -> int:
    """The port asked for, or the first free one.

    Raises:
        CommandError: the port asked for is taken, or all those tried are.

    """
    candidates = range(FIRST_PORT, FIRST_PORT + PORTS_TRIED) if asked is None else [asked]
    for port in candidates:
        if _is_free(port):
            return port
    taken = f"Port {asked} is" if asked is not None else f"Ports {FIRST_PORT} to {candidates[-1]} are"
    raise CommandError(f"{taken} taken or not allowed on {ADDRESS}: name a free one with --port.")


def _is_free(port: int) -> bool:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((ADDRESS, port))
        except (OSError, OverflowError):
            return False
        return True


def _stop(_signal: int, _frame: FrameType | None) -> None:
    """End in one way on Ctrl-C and SIGTERM, even where a shell started us with interrupts ignored."""
    raise KeyboardInterrupt
