"""The demo site's tables on disk."""

import csv
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[3] / "fixtures" / "demo_site"

Row = dict[str, str]


def table_read(name: str) -> list[Row]:
    """The rows of one table, as written."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def table_of_site(name: str, site_code: str) -> list[Row]:
    """The rows of one table that name this site."""
    return [row for row in table_read(name) if row["site"] == site_code]


def whole(text: str) -> int | None:
    """A whole number; None where the cell is empty."""
    return int(text) if text else None
