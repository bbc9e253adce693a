"""The browsable documents, served by ourselves under the site's own policy."""

import re

from django.contrib.staticfiles import finders

from tests.lib.api import Caller, told


def test_the_schema_is_served(supervisor: Caller) -> None:
    answer = supervisor.get("schema/?format=json")
    assert told(answer)["openapi"].startswith("3.1")


def test_the_documents_load_nothing_from_elsewhere_and_run_nothing_inline(supervisor: Caller) -> None:
    page = supervisor.get("docs/")
    text = page.content.decode()
    assert page.status_code == 200
    assert (
        "script" in page["Content-Security-Policy"] or "default-src 'self'" in page["Content-Security-Policy"]
    )
    sources = re.findall(r'(?:src|href)="([^"]+)"', text)
    assert [each for each in sources if not each.startswith("/")] == []
    assert re.findall(r"<script(?![^>]*\bsrc=)[^>]*>\s*\S", text) == []
    for each in sources:
        if each.startswith("/static/"):
            assert finders.find(each.removeprefix("/static/")), f"{each} is not there"


def test_the_script_of_the_documents_is_a_script(supervisor: Caller) -> None:
    answer = supervisor.get("docs/?script=")
    assert answer["Content-Type"].startswith("application/javascript")
    assert b"SwaggerUIBundle" in answer.content
