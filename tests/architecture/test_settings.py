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


def _answers(environment: dict[str, str], asked: str) -> list[str]:
    """What a fresh process answers, a line for each `print` of `asked`; the client is `c`."""
    begin = "import django; django.setup(); from django.test import Client; c = Client(); "
    done = subprocess.run(
        [sys.executable, "-c", begin + asked],
        cwd=ROOT, env=environment, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return done.stdout.splitlines()


def test_the_service_sends_its_own_hosts_to_tls_and_nobody_anywhere_else() -> None:
    asked = """
for host in ("bay.example", "evil.example", "bay.example.evil.example", "bay.example@evil.example", ""):
    got = c.get("/at/ridge/?a=//evil.example", headers={"host": host, "x-forwarded-proto": "http"})
    print(got.status_code, got.get("Location", "-"))
"""
    own, *others = _answers(SERVICE_ENVIRONMENT, "\n" + asked)
    assert own == "301 https://bay.example/at/ridge/?a=//evil.example"
    assert others == ["400 -"] * 4


def test_the_service_starts_with_its_own_settings_and_nothing_of_the_demo() -> None:
    asked = """
from django.conf import settings
got = c.get("/healthz", headers={"host": "bay.example"})
print(got.status_code, settings.DEBUG, settings.DATABASES["default"]["ENGINE"])
print(settings.SESSION_COOKIE_SECURE, settings.CSRF_COOKIE_SECURE, settings.SESSION_COOKIE_HTTPONLY)
"""
    assert _answers(SERVICE_ENVIRONMENT, "\n" + asked) == [
        "200 False django.db.backends.postgresql", "True True True",
    ]  # fmt: skip


def test_the_demo_settings_start_in_an_empty_folder(tmp_path: Path) -> None:
    environment = {
        "PATH": os.environ["PATH"], "DJANGO_SETTINGS_MODULE": "planner.config.settings.embedded",
        "TYREWRIGHT_VAR": str(tmp_path / "new" / "var"),
    }  # fmt: skip
    asked = """
from django.core.management import call_command
call_command("migrate", verbosity=0)
print(c.get("/readyz", headers={"host": "127.0.0.1"}).status_code)
print(c.get("/sign-in/", headers={"host": "127.0.0.1"}).status_code)
"""
    assert _answers(environment, "\n" + asked) == ["200", "200"]
    assert oct((tmp_path / "new" / "var" / "secret").stat().st_mode & 0o777) == "0o600"


def test_demo_refuses_the_service() -> None:
    done = _manage(SERVICE_ENVIRONMENT, "demo")
    assert done.returncode == 1
    assert "known passwords" in done.stderr
