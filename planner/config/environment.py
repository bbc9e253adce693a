"""Settings from the environment, with one clear line for each that is missing or wrong."""

from collections.abc import Mapping
from ipaddress import ip_network
from pathlib import Path
from urllib.parse import urlsplit

from django.core.exceptions import ImproperlyConfigured

PREFIX = "TYREWRIGHT_"


class Environment:
    """Reads settings by name, gathers every fault, and raises them together at the end."""

    def __init__(self, values: Mapping[str, str]) -> None:
        self._values = values
        self._faults: list[str] = []
        self._asked: set[str] = set()

    def text(self, name: str, default: str | None = None) -> str:
        """A setting that may not be empty; needed unless it has a default."""
        value = self._value(name, default)
        if value is None:
            return self._fault(name, "is not set")
        return value if value.strip() else self._fault(name, "is empty")

    def optional(self, name: str) -> str:
        """A setting that may be left out: empty then."""
        return (self._value(name, None) or "").strip()

    def secret(self, name: str, *, least_length: int = 1) -> str:
        """A secret, from the file that `NAME_FILE` names or from `NAME` itself."""
        path = self._value(f"{name}_FILE", None)
        value = self._value(name, None) if path is None else self._file(name, path)
        if value is None:
            return self._fault(name, f"is not set, and neither is {PREFIX}{name}_FILE")
        if len(value) < least_length:
            return self._fault(name, f"must be at least {least_length} characters long, and is {len(value)}")
        return value

    def integer(self, name: str, default: int, *, least: int, most: int) -> int:
        """A whole number within its limits."""
        value = self.text(name, str(default))
        if value.isascii() and value.isdigit() and least <= int(value) <= most:
            return int(value)
        self._fault(name, f"must be a whole number from {least} to {most}, and is {value!r}")
        return default

    def hosts(self, name: str) -> list[str]:
        """Host names with commas between them; a star would let any host through."""
        names = [part.strip() for part in self.text(name).split(",") if part.strip()]
        for host in names:
            if "*" in host or "/" in host or " " in host:
                self._fault(name, f"must be plain host names with commas between them, and has {host!r}")
        return names

    def choice(self, name: str, default: str, *others: str) -> str:
        """One of some words, in capitals or not."""
        value = self.text(name, default).upper()
        if value and value not in (default, *others):
            self._fault(name, f"must be one of {', '.join((default, *others))}, and is {value!r}")
        return value or default

    def networks(self, name: str) -> list[str]:
        """Networks in CIDR notation with commas between them; none where it is not set."""
        found = [part.strip() for part in (self._value(name, None) or "").split(",") if part.strip()]
        for network in found:
            try:
                ip_network(network)
            except ValueError:
                self._fault(name, f"must be networks such as 10.20.0.0/16, and has {network!r}")
        return found

    def words(self, name: str, *known: str) -> list[str]:
        """Some of the known words with commas between them; none where it is not set."""
        found = [part.strip() for part in (self._value(name, None) or "").split(",") if part.strip()]
        for word in found:
            if word not in known:
                self._fault(name, f"must be some of {', '.join(known)}, and has {word!r}")
        return found

    def url(self, name: str, *schemes: str) -> str:
        """An address with one of these schemes and a host."""
        value = self.text(name)
        parts = urlsplit(value)
        if value and (parts.scheme not in schemes or not parts.hostname):
            self._fault(name, f"must be an address that begins {' or '.join(f'{s}://' for s in schemes)}")
        return value

    def done(self) -> None:
        """Raise ImproperlyConfigured with every fault, unknown settings included, if there is any."""
        for name in sorted(set(self._values) - self._asked):
            if name.startswith(PREFIX):
                self._faults.append(f"{name}: no such setting")
        if self._faults:
            listed = "\n".join(f"- {fault}" for fault in self._faults)
            raise ImproperlyConfigured(f"Tyrewright can't start until these settings are mended:\n{listed}")

    def _value(self, name: str, default: str | None) -> str | None:
        self._asked.add(PREFIX + name)
        return self._values.get(PREFIX + name, default)

    def _file(self, name: str, path: str) -> str | None:
        self._asked.add(PREFIX + name)
        if PREFIX + name in self._values:
            self._fault(name, "is given twice, by value and by file; keep the file")
        try:
            return Path(path).read_text(encoding="utf-8").strip()
        except (OSError, UnicodeDecodeError) as error:
            return self._fault(f"{name}_FILE", f"cannot be read: {error}")

    def _fault(self, name: str, what: str) -> str:
        self._faults.append(f"{PREFIX}{name}: {what}")
        return ""
