"""Draw the state tables into DEVELOPERS.md: `manage.py state_diagrams [--check]`."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from planner.domain.states import STATE_TABLES

PAGE = Path(__file__).resolve().parents[3] / "DEVELOPERS.md"
BEGIN, END = "<!-- states: drawn by manage.py state_diagrams -->", "<!-- states end -->"


def diagrams() -> str:
    """All state tables as Mermaid diagrams under their nouns."""
    drawn = [f"**{table.noun}**\n```mermaid\n{table.diagram()}\n```" for table in STATE_TABLES]
    return "\n".join([BEGIN, *drawn, END])


def page_with_diagrams(page: str) -> str:
    """The page with its diagrams drawn anew; CommandError where it has no place for them."""
    if BEGIN not in page or END not in page:
        raise CommandError("DEVELOPERS.md has no place for the state diagrams")
    return page[: page.index(BEGIN)] + diagrams() + page[page.index(END) + len(END) :]


class Command(BaseCommand):
    """Keep the diagrams equal to the tables."""

    help = "Draw the state tables into DEVELOPERS.md."

    def add_arguments(self, parser: CommandParser) -> None:
        """Offer to check only."""
        parser.add_argument("--check", action="store_true", help="only say whether they are current")

    def handle(self, *_: Any, check: bool = False, **__: Any) -> None:
        """Write the page, or fail where it is not current."""
        page = PAGE.read_text(encoding="utf-8")
        current = page_with_diagrams(page)
        if check and page != current:
            raise CommandError("The state diagrams are not current: run manage.py state_diagrams.")
        if not check:
            PAGE.write_text(current, encoding="utf-8")
