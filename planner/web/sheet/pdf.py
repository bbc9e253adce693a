"""PDF by WeasyPrint, which needs libpango: imported only when a PDF is wanted, for a server may lack it."""

from importlib import import_module
from pathlib import Path


class NoPdfError(Exception):
    """PDF can't be written on a machine without libpango."""


def pdf_of(html: str, stylesheet: str | None) -> bytes:
    """A tagged PDF of a page that needs nothing but its one stylesheet; NoPdfError without libpango."""
    try:
        weasyprint = import_module("weasyprint")
    except OSError as missing:
        raise NoPdfError from missing
    css = Path(stylesheet).read_text(encoding="utf-8") if stylesheet else ""
    # Pictures come along in the page itself; nothing is fetched from anywhere.
    fetcher = import_module("weasyprint.urls").URLFetcher(allowed_protocols={"data"})
    document = weasyprint.HTML(string=html, url_fetcher=fetcher)
    written: bytes = document.write_pdf(stylesheets=[weasyprint.CSS(string=css)], pdf_variant="pdf/ua-1")
    return written
