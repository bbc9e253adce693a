"""The way back: `manage.py archive_restore FILE`, into an empty, migrated database."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from planner.domain.errors import UserError
from planner.services.archive import archive_restore


class Command(BaseCommand):
    """Restores all of an archive or nothing of it."""

    help = "Restore an archive into an empty database, and prove it equal."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the file."""
        parser.add_argument("file", type=Path, help="an archive of archive_write")

    def handle(self, *_: Any, file: Path, **__: Any) -> None:
        """Restore, and say what stands now."""
        try:
            manifest = archive_restore(path=file)
        except UserError as fault:
            raise CommandError(str(fault)) from fault
        self.stdout.write(f"{manifest.rows} rows in {len(manifest.tables)} tables, equal to the archive's")
