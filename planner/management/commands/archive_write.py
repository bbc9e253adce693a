"""Keep everything in one file: `manage.py archive_write FILE [--site CODE]`."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from planner.models import Site
from planner.services.archive import archive_write


class Command(BaseCommand):
    """Writes an archive of the whole service, or of one site, while the service runs on."""

    help = "Write everything, or one site with the people it names, into a new archive."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the file and the site."""
        parser.add_argument("file", type=Path, help="the new archive; it holds password hashes: keep it safe")
        parser.add_argument("--site", help="code of the one site to write")

    def handle(self, *_: Any, file: Path, site: str | None = None, **__: Any) -> None:
        """Write the archive and say what is in it."""
        row = Site.objects.filter(code=site).first() if site else None
        if site and row is None:
            raise CommandError(f"There is no site {site!r}.")
        try:
            manifest = archive_write(path=file, site=row)
        except OSError as error:
            raise CommandError(f"{file} can't be written: {error.strerror}") from error
        self.stdout.write(f"{file}: {manifest.rows} rows in {len(manifest.tables)} tables")
