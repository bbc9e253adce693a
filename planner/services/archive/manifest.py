"""What an archive says of itself."""

import json
from dataclasses import asdict, dataclass
from typing import Any

from django.db.migrations.recorder import MigrationRecorder

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _

FORMAT = "tyrewright-archive-1"
MEMBER = "manifest.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class TableTally:
    """How many rows a table has, and the SHA-256 of their lines."""

    rows: int
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """The tables of an archive, the site where it holds only one, and the migrations it was made under."""

    site: str | None
    migrations: tuple[str, ...]
    tables: dict[str, TableTally]

    @property
    def rows(self) -> int:
        """Rows in all tables together."""
        return sum(tally.rows for tally in self.tables.values())


def migrations_applied() -> tuple[str, ...]:
    """Every migration of the database, as `application.name`."""
    applied = MigrationRecorder.Migration.objects.values_list("app", "name")
    return tuple(sorted(f"{app}.{name}" for app, name in applied))


def manifest_write(manifest: Manifest) -> str:
    """The manifest as JSON."""
    return json.dumps({"format": FORMAT, **asdict(manifest)}, indent=1)


def manifest_read(raw: bytes) -> Manifest:
    """The manifest back; InvalidValueError where the file is none of ours."""
    try:
        found: dict[str, Any] = json.loads(raw)
        if found["format"] != FORMAT:
            raise InvalidValueError(
                _(
                    "the archive has the format {found:quoted}, not {format:quoted}",
                    found=found["format"],
                    format=FORMAT,
                )
            )
        tables = {name: TableTally(**tally) for name, tally in found["tables"].items()}
        return Manifest(site=found["site"], migrations=tuple(found["migrations"]), tables=tables)
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        if isinstance(error, InvalidValueError):
            raise
        raise InvalidValueError(_("the archive's manifest can't be read: {error}", error=error)) from error
