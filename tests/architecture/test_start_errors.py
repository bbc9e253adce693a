"""Every setting of the service, each made wrong: the start ends with code 78 and one line that names it."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.lib.service_environment import SERVICE_ENVIRONMENT

ROOT = Path(__file__).resolve().parents[2]
# Each setting with a value that it cannot have.
WRONG = {
    "SECRET_KEY": "too short",
    "METRICS_TOKEN": "too short",
    "HOSTS": "*",
    "DATABASE_HOST": " ",
    "DATABASE_NAME": " ",
    "DATABASE_USER": " ",
    "DATABASE_PORT": "70000",
    "DATABASE_PASSWORD": "",
    "REDIS_URL": "http://redis",
    "REDIS_PASSWORD": "",
    "STATIC": " ",
    "FILES": " ",
    "TASK_SECONDS": "5",
    "LOG_LEVEL": "LOUD",
    "WEBHOOK_NETWORKS": "10.0.0.1/8",
    "CODES_FOR": "boss",
    "KEEP_DRAFTS": "1",
    "KEEP_BUILDS": "1",
    "KEEP_WEBHOOK_DELIVERIES": "never",
    "KEEP_ALARMS": "1",
    "KEEP_TOKENS": "1",
    "MAIL_PORT": "0",
    "MAIL_FROM": " ",
    "MAIL_PASSWORD": "",
}
# They take any text, and none.
ANY_TEXT = {"MAIL_HOST", "MAIL_USER"}


def _asked() -> set[str]:
    """Every setting that the service reads, from its own text; those of retention are read in a loop."""
    text = (ROOT / "planner" / "config" / "settings" / "service.py").read_text()
    kept = set(re.findall(r'\("(\w+)", \d+\)', text))
    names = set(re.findall(r'_environment\.\w+\(\s*"([A-Z_]+)"', text))
    return names | {f"KEEP_{name.upper()}" for name in kept}


def test_every_setting_is_tried() -> None:
    assert set(WRONG) == _asked() - ANY_TEXT


def test_every_wrong_setting_is_named_at_once() -> None:
    wrong = {f"TYREWRIGHT_{name}": value for name, value in WRONG.items()}
    # With a mail host and its user, the sender and the password are asked for.
    wrong |= {"TYREWRIGHT_MAIL_HOST": "mail.example", "TYREWRIGHT_MAIL_USER": "bay"}
    done = subprocess.run(
        [sys.executable, "manage.py", "check"],
        cwd=ROOT, env=SERVICE_ENVIRONMENT | wrong, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == os.EX_CONFIG
    named = re.findall(r"^- TYREWRIGHT_(\w+):", done.stderr, re.MULTILINE)
    assert sorted(named) == sorted(WRONG)
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("process", ["planner.config.wsgi", "planner.config.celery"])
def test_web_and_worker_say_the_same_without_a_trace_of_their_own(process: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", f"import django, {process}; django.setup()"],
        cwd=ROOT, env=SERVICE_ENVIRONMENT | {"TYREWRIGHT_TASK_SECONDS": "5"}, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert done.returncode != 0
    assert "- TYREWRIGHT_TASK_SECONDS: must be a whole number from 60 to 3000, and is '5'" in done.stderr


def test_every_setting_stands_in_the_documentation() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text().partition("## In service")[2].partition("\n## ")[0]
    assert [name for name in sorted(WRONG) if f"`{name}`" not in text] == []
