"""What tests ask of a page: that it is accessible, and a picture of it."""

from pathlib import Path
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

ARTEFACTS = Path(__file__).resolve().parents[2] / ".artefacts"


WCAG = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]},
    "resultTypes": ["violations"],
}
"""Of axe's rules those of WCAG 2.2, levels A and AA."""


def axe_violations(page: Page, options: dict[str, Any] | None = None) -> list[str]:
    """Every accessibility rule that the page breaks, with the first element that breaks it."""
    found = Axe().run(page, options=options).response["violations"]
    return [f"{rule['id']}: {rule['help']}: {rule['nodes'][0]['html']}" for rule in found]


def picture_take(page: Page, name: str) -> Path:
    """Keep a screenshot for a person to look at; the file stays out of the repository."""
    ARTEFACTS.mkdir(exist_ok=True)
    path = ARTEFACTS / f"{name}.png"
    page.screenshot(path=path, full_page=True)
    return path
