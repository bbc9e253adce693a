"""The compose file, checked as far as it can be without an engine."""

import ast
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.lib.service_environment import SERVICE_ENVIRONMENT

ROOT = Path(__file__).resolve().parents[2]
COMPOSE = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
SERVICES: dict[str, dict[str, Any]] = COMPOSE["services"]
every_service = pytest.mark.parametrize("name", SERVICES)


def test_whole_service_is_there() -> None:
    assert set(SERVICES) >= {"proxy", "web", "worker", "messenger", "mailer", "beat", "database", "redis"}


@every_service
def test_service_is_hardened(name: str) -> None:
    service = SERVICES[name]
    assert service["read_only"] is True
    assert service["cap_drop"] == ["ALL"]
    assert service["security_opt"] == ["no-new-privileges:true"]
    assert int(service["user"].split(":")[0]) > 0


@every_service
def test_service_is_watched(name: str) -> None:
    check = SERVICES[name]["healthcheck"]
    assert check.get("test") or (name == "migrate" and check == {"disable": True})


@every_service
def test_only_the_proxy_is_reached_from_outside(name: str) -> None:
    assert ("ports" in SERVICES[name]) == ("outside" in SERVICES[name]["networks"]) == (name == "proxy")


@every_service
def test_only_the_messenger_and_the_mailer_call_out(name: str) -> None:
    """The network inside has no way out; the proxy only answers."""
    networks = set(SERVICES[name]["networks"])
    assert COMPOSE["networks"]["inside"] == {"internal": True}
    assert ("calls" in networks) == (name in {"messenger", "mailer"})


def test_somebody_takes_each_queue_that_the_service_routes_to() -> None:
    done = subprocess.run(
        [sys.executable, "-c", "import planner.config.settings.service as s; print(s.CELERY_TASK_ROUTES)"],
        cwd=ROOT, env=SERVICE_ENVIRONMENT, capture_output=True, text=True, check=True,
    )  # fmt: skip
    routed = {route["queue"] for route in ast.literal_eval(done.stdout).values()}
    taken = {word for service in SERVICES.values() for word in service.get("command", []) if word in routed}
    assert routed == taken == {"prompt", "mail"}


@every_service
def test_secrets_come_from_files_only(name: str) -> None:
    service = SERVICES[name]
    assert set(service.get("secrets", [])) <= set(COMPOSE["secrets"])
    for setting, value in service.get("environment", {}).items():
        is_secret = any(word in setting for word in ("SECRET", "PASSWORD", "TOKEN"))
        assert setting.endswith("_FILE") and value.startswith("/run/secrets/") if is_secret else True


def test_secret_files_stay_out_of_the_repository() -> None:
    ignored = (ROOT / ".gitignore").read_text().splitlines()
    assert all(secret["file"].startswith("./.secrets/") for secret in COMPOSE["secrets"].values())
    assert ".secrets/" in ignored


def test_the_proxy_sends_nobody_to_a_host_that_the_caller_named() -> None:
    proxy = (ROOT / ".docker" / "proxy.conf").read_text()
    assert re.findall(r"return\s+\d+\s+\S*\$", proxy) == []
    cleartext, tls = proxy.split("server {")[1:]
    assert "listen 8080;" in cleartext and "X-Forwarded-Proto http;" in cleartext
    assert "location /api/ { return 403; }" in cleartext
    assert "listen 8443 ssl;" in tls and "X-Forwarded-Proto https;" in tls


def test_image_runs_as_nobody_and_is_locked() -> None:
    lines = (ROOT / ".docker" / "Dockerfile").read_text().splitlines()
    assert "USER tyrewright" in lines
    assert any("--require-hashes" in line for line in lines)
    assert any(line.startswith("HEALTHCHECK") for line in lines)
