"""A scratch installation for a load run: a folder, a database and a queue of its own, and a small mine."""

import os
import secrets
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
BROKER = "redis://127.0.0.1:6379/8"


def scratch_open(folder: Path, *, postgres: bool) -> dict[str, str]:
    """Make and migrate a database, point this process at it, and give the environment for others.

    For PostgreSQL the usual PGHOST, PGUSER and PGPASSWORD name somebody who may create databases.
    """
    name = f"tyrewright_load_{secrets.token_hex(4)}"
    if postgres:
        subprocess.run(["createdb", name], check=True)
        os.environ["TYREWRIGHT_TEST_POSTGRES"] = name
        os.environ["TYREWRIGHT_TEST_CONN_MAX_AGE"] = "60"
    os.environ |= {
        "DJANGO_SETTINGS_MODULE": "planner.config.settings.testing",
        "TYREWRIGHT_VAR": str(folder),
        "TYREWRIGHT_TEST_BROKER": BROKER,
        "TYREWRIGHT_TEST_DATABASE": name if postgres else str(folder / "load.sqlite3"),
    }
    subprocess.run([sys.executable, "manage.py", "migrate", "-v0"], cwd=ROOT, check=True)
    return dict(os.environ)


def scratch_drop() -> None:
    """Take a PostgreSQL database away again; a folder is its caller's."""
    if name := os.environ.get("TYREWRIGHT_TEST_POSTGRES"):
        subprocess.run(["dropdb", "--force", name], check=True)
