"""50 technicians tapping at once while web processes are killed: `python -m tests.load.tapping --postgres`.

Each begins and ends a stage of a tyre of their own, again and again until it was answered, as a tablet does.
Then every stage must stand there once, begun and over.
"""

import argparse
import http.client
import json
import os
import random
import signal
import subprocess
import tempfile
import threading
import time
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

import django

from tests.load.mixed_users import serving
from tests.load.scratch import scratch_drop, scratch_open

MOST_TECHNICIANS = 50
SECONDS_FOR_ALL = 300


@dataclass(slots=True, kw_only=True)
class Tally:
    """What the tablets saw."""

    sent: int = 0
    lost: int = 0
    strange: list[str] = field(default_factory=list)


def main() -> None:
    """Tap, kill, count."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--technicians", type=int, default=MOST_TECHNICIANS)
    parser.add_argument("--kills", type=int, default=0, help="of web processes, every few seconds")
    parser.add_argument("--postgres", action="store_true")
    asked = parser.parse_args()
    people = min(asked.technicians, MOST_TECHNICIANS)
    with tempfile.TemporaryDirectory(prefix="tyrewright-load-") as folder:
        environment = scratch_open(Path(folder), postgres=asked.postgres)
        try:
            django.setup()
            tokens = _open(people)
            with serving(environment) as (port, server):
                tally, kills = _tap_all(port, server, tokens, asked.kills)
            _report(people, tally, kills)
        finally:
            _close()
            scratch_drop()


def _close() -> None:
    from django.db import connections

    connections.close_all()


def _open(people: int) -> list[tuple[str, dict[str, object]]]:
    """A tyre, a position and a token for each technician."""
    from django.utils import timezone

    from planner.domain.permissions import Action
    from planner.models import User
    from planner.services.api_tokens import api_token_make
    from tests.lib.mine import mine_equipped

    mine, found = mine_equipped(), []
    kinds = list(mine.position("P1").kinds.all())
    for number in range(people):
        user = User.objects.create_user(f"tap-{number}")
        mine.add("sitemembership", user=user, role="technician")
        mine.add("technician", code=f"X{number}", name=f"X{number}", user=user)
        mine.add("position", code=f"Q{number}", name=f"Q{number}", kinds=kinds)
        damage = mine.order(f"A{number}").damages.get()
        _, secret = api_token_make(
            user=user, site=mine.site, name="tablet", actions=[Action.SITE_READ, Action.WORK_RECORD],
            expires_at=timezone.now() + timedelta(days=1),
        )  # fmt: skip
        begun = {
            "tyre": damage.tyre_id,
            "damage": damage.pk,
            "technicians": [f"X{number}"],
            "position": f"Q{number}",
        }
        found.append((secret, begun))
    return found


def _tap_all(
    port: int, server: int, tokens: list[tuple[str, dict[str, object]]], kills: int
) -> tuple[Tally, int]:
    tally, lock = Tally(), threading.Lock()
    tablets = [threading.Thread(target=_tap, args=(port, *each, tally, lock)) for each in tokens]
    for tablet in tablets:
        tablet.start()
    killed = 0
    while any(tablet.is_alive() for tablet in tablets):
        time.sleep(random.uniform(0.5, 4.0))
        if killed < kills:
            killed += _kill_one(server)
    return tally, killed


def _kill_one(server: int) -> int:
    """Kill -9 of one web process; the server starts another."""
    told = subprocess.run(["pgrep", "-P", str(server)], capture_output=True, text=True, check=False).stdout
    pids = [int(pid) for pid in told.split()]
    if len(pids) < 2:
        return 0
    os.kill(random.choice(pids), signal.SIGKILL)
    return 1


def _tap(port: int, secret: str, begun: dict[str, object], tally: Tally, lock: threading.Lock) -> None:
    for stage in ("Skive", "Fill"):
        body = begun | {"stage": stage}
        run = _until_answered(port, secret, "stage-runs/", body, f"begin-{stage}", tally, lock)
        if run is not None:
            path = f"stage-runs/{run['id']}/finish/"
            _until_answered(port, secret, path, {}, "", tally, lock)


def _until_answered(
    port: int, secret: str, path: str, body: dict[str, object], key: str, tally: Tally, lock: threading.Lock
) -> dict[str, object] | None:
    """Send it until something came back; what came back after a loss may say that it stood already."""
    deadline, again = time.monotonic() + SECONDS_FOR_ALL, False
    while time.monotonic() < deadline:
        with lock:
            tally.sent += 1
        answer = _post(port, secret, path, body, key)
        if answer is not None and (answer[0] in (200, 201) or (again and answer[0] == 409)):
            return answer[1]
        if answer is not None and answer[0] not in (429, 503):
            with lock:
                tally.strange.append(f"{answer[0]} {answer[1]}")
            return None
        with lock:
            tally.lost += 1
        again = True
        time.sleep(random.uniform(0.2, 1.0))
    with lock:
        tally.strange.append("never answered")
    return None


def _post(
    port: int, secret: str, path: str, body: dict[str, object], key: str
) -> tuple[int, dict[str, object]] | None:
    headers = {"Authorization": f"Bearer {secret}", "Content-Type": "application/json", "If-Match": "*"}
    headers |= {"Idempotency-Key": key} if key else {}
    try:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        connection.request("POST", f"/api/v1/sites/ridge/{path}", json.dumps(body), headers)
        answer = connection.getresponse()
        return answer.status, json.loads(answer.read())
    except (OSError, http.client.HTTPException, ValueError):
        return None


def _report(people: int, tally: Tally, kills: int) -> None:
    from planner.models import AuditEvent, StageRun
    from tests.load.invariants import invariant_faults

    runs = StageRun.objects.filter(name__in=("Skive", "Fill"))
    over, told = (
        runs.filter(state="done").count(),
        AuditEvent.objects.filter(action="stage_run_start").count(),
    )
    broken = invariant_faults()
    print(f"{people} technicians, {kills} web processes killed")
    print(f"{tally.sent} taps sent, {tally.lost} not answered")
    print(f"{runs.count()} stages begun (wanted {2 * people}), {over} over, {told} events of a beginning")
    print(f"strange: {tally.strange[:3] or 'nothing'}; invariants: {broken[:3] or 'hold'}")
    wanted = runs.count() == over == told == 2 * people
    raise SystemExit(bool(tally.strange or broken or not wanted))


if __name__ == "__main__":
    main()
