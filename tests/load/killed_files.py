"""Web processes killed with a file in their hands, and commands killed over an archive; for `work_kills`."""

import base64
import http.client
import json
import os
import signal
import subprocess
import sys
import threading
import time
from datetime import date, timedelta
from pathlib import Path

from planner.models import AuditEvent, CostPrice
from tests.lib.api import token_of
from tests.lib.mine import mine_equipped
from tests.load.mixed_users import serving
from tests.load.scratch import ROOT

ROWS = 600
HEADING = "kind,item,unit,amount,currency,loading,overtime factor,effective from,source"
SECONDS_TO_BE_ANSWERED = 120


def imports_killed(environment: dict[str, str], moments: list[float]) -> list[str]:
    """All of a file stands, or none of it; sent again with its key it stands once."""
    mine, faults, kept = mine_equipped(), [], 0
    secret = token_of(mine, "accountant")
    with serving(environment) as (port, server):
        for number, moment in enumerate(moments):
            sender = threading.Thread(target=_import, args=(port, secret, number))
            sender.start()
            time.sleep(moment)
            _kill_children(server)
            sender.join()
            stands = CostPrice.objects.filter(source=f"file {number}").count()
            kept += stands == ROWS
            faults += [] if stands in (0, ROWS) else [f"file {number}: {stands} of {ROWS} rows"]
            deadline = time.monotonic() + SECONDS_TO_BE_ANSWERED
            while _import(port, secret, number) != 201 and time.monotonic() < deadline:
                time.sleep(0.2)
            stands = CostPrice.objects.filter(source=f"file {number}").count()
            faults += [] if stands == ROWS else [f"file {number} sent again: {stands} of {ROWS} rows"]
            answer = _ask(port, secret, "GET", "repairs/export/?kind=xlsx")
            faults += [] if answer == 200 else [f"export after kill {number}: {answer}"]
    told = AuditEvent.objects.filter(action__contains="import").count()
    print(f"{kept} files stood at the kill, {len(moments) - kept} did not; {told} events of an import")
    return faults + ([] if told == len(moments) else [f"{told} events of {len(moments)} imports"])


def prices(number: int, rows: int) -> str:
    """A file of prices that are new, and name the file as their source."""
    day = date(2026, 11, 1) + timedelta(days=number)
    lines = [f"labour,item {row},h,45.50,AUD,0.2,1.5,{day},file {number}" for row in range(rows)]
    return "\n".join([HEADING, *lines])


def _import(port: int, secret: str, number: int) -> int:
    content = base64.b64encode(prices(number, ROWS).encode()).decode()
    body = {"kind": "prices", "name": "prices.csv", "content": content}
    return _ask(port, secret, "POST", "imports/", json.dumps(body), f"file-{number}")


def _ask(port: int, secret: str, method: str, path: str, body: str = "", key: str = "") -> int:
    """The status of the answer; 0 where none came."""
    headers = {"Authorization": f"Bearer {secret}", "Content-Type": "application/json"}
    headers |= {"Idempotency-Key": key} if key else {}
    try:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        connection.request(method, f"/api/v1/sites/ridge/{path}", body or None, headers)
        answer = connection.getresponse()
        answer.read()
    except (OSError, http.client.HTTPException):
        return 0
    return answer.status


def _kill_children(server: int) -> None:
    told = subprocess.run(["pgrep", "-P", str(server)], capture_output=True, text=True, check=False).stdout
    for pid in told.split():
        os.kill(int(pid), signal.SIGKILL)


def archives_killed(folder: Path, moments: list[float]) -> list[str]:
    """A killed backup leaves no archive under its name; a killed restore leaves an empty database."""
    mine = mine_equipped()
    for number in range(300):
        mine.order(f"A{number}")
    faults, written = [], 0
    for number, moment in enumerate(moments):
        path = folder / f"{number}.zip"
        _command_killed(moment, "archive_write", str(path))
        written += path.exists()
        if path.exists():
            faults += _restore_killed(folder / f"restored-{number}", path, moment)
    print(f"{written} archives were whole at the kill, {len(moments) - written} were not there")
    return faults


def _restore_killed(var: Path, archive: Path, moment: float) -> list[str]:
    """Into an empty SQLite database: killed, then done again, it holds everything."""
    var.mkdir()
    elsewhere = {**os.environ, "DJANGO_SETTINGS_MODULE": "planner.config.settings.embedded"}
    elsewhere |= {"TYREWRIGHT_VAR": str(var)}
    run = [sys.executable, "manage.py"]
    subprocess.run([*run, "migrate", "-v0"], cwd=ROOT, env=elsewhere, check=True)
    _command_killed(moment, "archive_restore", str(archive), environment=elsewhere)
    again = subprocess.run(
        [*run, "archive_restore", str(archive)],
        cwd=ROOT,
        env=elsewhere,
        capture_output=True,
        text=True,
        check=False,
    )
    stands_already = "holds users or sites already" in again.stderr
    chain = subprocess.run(
        [*run, "audit_chain_check"], cwd=ROOT, env=elsewhere, check=False, capture_output=True
    )
    whole = (again.returncode == 0 or stands_already) and chain.returncode == 0
    return [] if whole else [f"{archive.name}: {again.stderr[-200:]}"]


def _command_killed(moment: float, *words: str, environment: dict[str, str] | None = None) -> None:
    command = subprocess.Popen(
        [sys.executable, "manage.py", *words], cwd=ROOT, env=environment, stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )  # fmt: skip
    time.sleep(moment)
    command.kill()
    command.wait()
