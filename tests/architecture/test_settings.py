"""The service settings: clean under Django's own deployment check, and refused when one is wrong."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.lib.service_environment import SERVICE_ENVIRONMENT

ROOT = Path(__file__).resolve().parents[2]


def _manage(environment: dict[str, str], *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "manage.py", *arguments]
    return subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)


def test_deployment_check_is_clean() -> None:
    done = _manage(SERVICE_ENVIRONMENT, "check", "--deploy", "--fail-level", "WARNING")
    assert (done.returncode, done.stdout.strip()) == (0, "System check identified no issues (0 silenced)."), (
        done.stderr
    )


@pytest.mark.parametrize("name", [name for name in SERVICE_ENVIRONMENT if name.startswith("TYREWRIGHT_")])
def test_missing_setting_stops_the_start_by_name(name: str) -> None:
    done = _manage({key: value for key, value in SERVICE_ENVIRONMENT.items() if key != name}, "check")
    assert done.returncode == os.EX_CONFIG
    assert f"- {name}: is not set" in done.stderr
    assert "Traceback" not in done.stderr


def test_demo_refuses_the_service() -> None:
    done = _manage(SERVICE_ENVIRONMENT, "demo")
    assert done.returncode == 1
    assert "known passwords" in done.stderr
