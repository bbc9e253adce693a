"""Files in JSON, and files as they are answered."""

import base64
import binascii
from typing import Any

from django.http import HttpResponse
from drf_spectacular.extensions import OpenApiSerializerFieldExtension
from drf_spectacular.openapi import AutoSchema
from rest_framework import serializers

LONGEST = 10 * 1024 * 1024


class FileField(serializers.CharField):
    """A file's bytes as base64 of RFC 4648; the body's own limit of 10 MiB leaves some 7 MB of file."""

    default_error_messages = {
        "not_base64": "write the file's bytes as base64, such as `base64 -w0 FILE` does"
    }

    def __init__(self, **options: Any) -> None:
        super().__init__(max_length=LONGEST, trim_whitespace=False, **options)

    def to_internal_value(self, data: Any) -> Any:
        """The bytes."""
        try:
            return base64.b64decode(super().to_internal_value(data), validate=True)
        except (binascii.Error, ValueError):
            self.fail("not_base64")


class FileInSchema(OpenApiSerializerFieldExtension):  # type: ignore[no-untyped-call]
    """The file in the schema, in the words of JSON Schema 2020-12."""

    target_class = FileField

    def map_serializer_field(self, auto_schema: AutoSchema, direction: str) -> dict[str, Any]:
        """Base64 text."""
        return {"type": "string", "contentEncoding": "base64", "minLength": 1, "maxLength": LONGEST}


def file_response(raw: bytes, *, name: str, kind: str) -> HttpResponse:
    """A file to be saved: never opened in the site's own page, whatever stands in it."""
    return HttpResponse(
        raw,
        content_type=kind,
        headers={
            "Content-Disposition": f'attachment; filename="{name}"',
            "X-Content-Type-Options": "nosniff",
            "Content-Security-Policy": "default-src 'none'; sandbox",
        },
    )
