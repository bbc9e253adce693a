"""Files that go out as answers, and files that a preview carries along until it is confirmed."""

import base64

from django.http import HttpRequest, HttpResponse
from django.utils.http import content_disposition_header
from django.utils.translation import gettext as _

from planner.domain.errors import InvalidValueError

_KINDS = {
    "csv": "text/csv; charset=utf-8",
    "jpg": "image/jpeg",
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


def file_answer(raw: bytes, name: str) -> HttpResponse:
    """The bytes to be saved under a name whose ending says what they are; a PDF to be read at once."""
    ending = name.rpartition(".")[2]
    disposition = content_disposition_header(ending != "pdf", name) or ""
    return HttpResponse(raw, content_type=_KINDS[ending], headers={"Content-Disposition": disposition})


def carried(raw: bytes) -> str:
    """A file as text that its preview carries along."""
    return base64.b64encode(raw).decode()


def carried_read(request: HttpRequest) -> bytes:
    """The very bytes that were previewed."""
    try:
        return base64.b64decode(request.POST.get("carried", ""), validate=True)
    except ValueError as fault:
        raise InvalidValueError(_("The file was lost on the way: choose it again.")) from fault
