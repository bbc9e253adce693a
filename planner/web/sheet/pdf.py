"""PDF by WeasyPrint, which needs libpango: imported only when a PDF is wanted, for a server may lack it."""

from importlib import import_module
from pathlib import Path
from typing import Any


class NoPdfError(Exception):
    """PDF can't be written on a machine without libpango."""


def pdf_of(html: str, stylesheet: str | None) -> bytes:
    """A tagged PDF of a page that needs nothing but its one stylesheet; NoPdfError without libpango."""
    try:
        weasyprint = import_module("weasyprint")
    except OSError as missing:
        raise NoPdfError from missing
    css = Path(stylesheet).read_text(encoding="utf-8") if stylesheet else ""
    document = weasyprint.HTML(string=html, url_fetcher=_refuse)
    written: bytes = document.write_pdf(stylesheets=[weasyprint.CSS(string=css)], pdf_variant="pdf/ua-1")
    return written


def _refuse(url: str, *_: Any, **__: Any) -> dict[str, Any]:
    raise ValueError(f"a sheet fetches nothing, not even {url}")
