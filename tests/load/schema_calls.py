"""Schemathesis against a running server: `python -m tests.load.schema_calls [--seed 1] [--examples 30]`.

Its own command line with every check but one, requests that keep to the schema and requests that break it,
for several roles. What is made stays made, so later calls meet what earlier ones left.
"""

import argparse
import copy
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import django

from tests.load.mixed_users import serving
from tests.load.scratch import scratch_drop, scratch_open

# `positive_data_acceptance` wants every body that the schema allows to be taken: the rules of a bay refuse
# more than a schema can say, with 422 and the reason.
LEFT_OUT = "positive_data_acceptance"
# A lacking If-Match is answered by 428 (RFC 6585, 3), one of another state by 412 (RFC 9110, 15.5.13) before
# the rest of a request is looked at; its own lists know neither.
SETTINGS = """[checks.missing_required_header]
expected-statuses = [400, 401, 403, 404, 406, 415, 422, 428]
[checks.negative_data_rejection]
expected-statuses = [400, 401, 403, 404, 405, 406, 409, 412, 413, 415, 422, 428, 429]
"""


def main() -> None:
    """Serve a mine with a published plan, and call every operation as often as asked."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--examples", type=int, default=30, help="for each operation and role")
    parser.add_argument("--roles", nargs="+", default=["administrator", "supervisor", "accountant"])
    parser.add_argument("--postgres", action="store_true")
    parser.add_argument("words", nargs="*", help="further words for schemathesis, behind --")
    asked = parser.parse_args()
    os.environ["TYREWRIGHT_TEST_UNTHROTTLED"] = "1"
    failed = []
    with tempfile.TemporaryDirectory(prefix="tyrewright-load-") as folder:
        environment = scratch_open(Path(folder), postgres=asked.postgres)
        try:
            django.setup()
            secrets = _mine_with_plan()
            with serving(environment) as (port, _):
                schema = _schema_kept(Path(folder))
                failed = [role for role in asked.roles if _calls(port, schema, secrets[role], role, asked)]
        finally:
            _close()
            scratch_drop()
    raise SystemExit(f"failed for {failed}" if failed else 0)


def _close() -> None:
    from django.db import connections

    connections.close_all()


def _mine_with_plan() -> dict[str, str]:
    """The secret of a token for each role; it may do whatever the role may."""
    from unittest.mock import patch

    from celery import current_app

    from planner.domain.permissions import Role
    from planner.services.plan_build_run import plan_build_run
    from planner.services.plan_builds import plan_build_start
    from planner.services.plans import plan_publish
    from tests.lib.api import token_of
    from tests.lib.mine import at, mine_equipped

    mine = mine_equipped()
    for number in range(4):
        mine.order(f"T-{number}")
    with patch.object(current_app, "send_task", lambda *_, **__: None):
        build = plan_build_start(
            user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), seconds=3
        )
        plan = plan_build_run(build_id=build.pk)
        assert plan is not None
        plan_publish(user=mine.supervisor, plan=plan, expected_number=None)
    return {role: token_of(mine, role) for role in Role}


def _schema_kept(folder: Path) -> Path:
    """The schema as a file with the one site that there is, and settings beside it; else most find none."""
    from tests.lib.api_schema import api_schema

    schema = copy.deepcopy(api_schema())
    for methods in schema["paths"].values():
        for told in methods.values():
            for each in told.get("parameters", ()):
                if each["in"] == "path" and each["name"] == "site":
                    each["schema"] = {"type": "string", "enum": ["ridge"]}
    kept = folder / "schema.json"
    kept.write_text(json.dumps(schema))
    kept.with_name("settings.toml").write_text(SETTINGS)
    return kept


def _calls(port: int, schema: Path, secret: str, role: str, asked: argparse.Namespace) -> int:
    print(f"== {role}", flush=True)
    words = [
        "--config-file", str(schema.with_name("settings.toml")), "--no-color", "run", str(schema), "--url", f"http://127.0.0.1:{port}",
        "--header", f"Authorization: Bearer {secret}",
        "--checks", "all", "--exclude-checks", LEFT_OUT, "--mode", "all", "--seed", str(asked.seed),
        "--max-examples", str(asked.examples), "--continue-on-failure", "--no-shrink", "--workers", "2",
        "--suppress-health-check", "all", "--request-timeout", "60", *asked.words,
    ]  # fmt: skip
    command = [sys.executable, "-c", "import schemathesis.cli as cli; cli.schemathesis()", *words]
    return subprocess.run(command, cwd=schema.parent, check=False).returncode


if __name__ == "__main__":
    main()
