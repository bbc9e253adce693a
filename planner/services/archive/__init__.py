"""The whole of a service, or of one site, in one file, and back into an empty database.

`archive_write(path=..., site=...)` and `archive_restore(path=...)`. The file is a zip of JSON
lines, one member for each table, with a manifest that holds each table's rows and SHA-256; both ways
go row by row, whatever the size.
"""

from planner.services.archive.manifest import Manifest, TableTally
from planner.services.archive.restoring import archive_restore
from planner.services.archive.writing import archive_write

__all__ = ["Manifest", "TableTally", "archive_restore", "archive_write"]
