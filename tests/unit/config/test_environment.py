"""Settings from the environment: every fault is named, all at once."""

from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from planner.config.environment import Environment


def _faults(environment: Environment) -> list[str]:
    with pytest.raises(ImproperlyConfigured) as caught:
        environment.done()
    return [line.removeprefix("- ") for line in str(caught.value).splitlines()[1:]]


def test_secret_comes_from_its_file(tmp_path: Path) -> None:
    (tmp_path / "key").write_text("opened\n")
    environment = Environment({"TYREWRIGHT_KEY_FILE": str(tmp_path / "key")})
    assert environment.secret("KEY") == "opened"
    environment.done()


def test_every_fault_is_named_at_once() -> None:
    environment = Environment(
        {"TYREWRIGHT_PORT": "70000", "TYREWRIGHT_KEY": "short", "TYREWRIGHT_HOSTS": "*"}
    )
    environment.integer("PORT", 5432, least=1, most=65535)
    environment.secret("KEY", least_length=50)
    environment.hosts("HOSTS")
    environment.text("NAME")
    assert _faults(environment) == [
        "TYREWRIGHT_PORT: must be a whole number from 1 to 65535, and is '70000'",
        "TYREWRIGHT_KEY: must be at least 50 characters long, and is 5",
        "TYREWRIGHT_HOSTS: must be plain host names with commas between them, and has '*'",
        "TYREWRIGHT_NAME: is not set",
    ]


def test_misspelt_setting_is_a_fault() -> None:
    environment = Environment({"TYREWRIGHT_HOST": "bay.example", "HOME": "/root"})
    assert _faults(environment) == ["TYREWRIGHT_HOST: no such setting"]


def test_unreadable_secret_file_names_the_file() -> None:
    environment = Environment({"TYREWRIGHT_KEY_FILE": "/nonexistent/key"})
    environment.secret("KEY")
    assert "/nonexistent/key" in _faults(environment)[0]


def test_secret_given_twice_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "key").write_text("one")
    environment = Environment({"TYREWRIGHT_KEY": "two", "TYREWRIGHT_KEY_FILE": str(tmp_path / "key")})
    environment.secret("KEY")
    assert _faults(environment) == ["TYREWRIGHT_KEY: is given twice, by value and by file; keep the file"]


@pytest.mark.parametrize("value", ["localhost:6379", "http://redis", "redis://"])
def test_address_of_another_kind_is_a_fault(value: str) -> None:
    environment = Environment({"TYREWRIGHT_REDIS_URL": value})
    environment.url("REDIS_URL", "redis", "rediss")
    assert _faults(environment) == [
        "TYREWRIGHT_REDIS_URL: must be an address that begins redis:// or rediss://"
    ]


def test_networks_are_read_and_a_wrong_one_is_named() -> None:
    environment = Environment({"TYREWRIGHT_GOOD": "10.20.0.0/16, fd00::/8", "TYREWRIGHT_BAD": "10.20.0.1/16"})
    assert environment.networks("GOOD") == ["10.20.0.0/16", "fd00::/8"]
    assert environment.networks("NONE") == []
    environment.networks("BAD")
    assert _faults(environment) == [
        "TYREWRIGHT_BAD: must be networks such as 10.20.0.0/16, and has '10.20.0.1/16'"
    ]
