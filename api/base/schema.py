"""The OpenAPI schema: what every operation has in common is written once, from what its view declares."""

from typing import Any

from drf_spectacular.extensions import OpenApiSerializerFieldExtension
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.plumbing import ComponentRegistry
from rest_framework.serializers import DecimalField, TimeField

from api.base.problems import MEDIA_TYPE

_WORDS = {
    400: "the request cannot be read",
    401: "not signed in",
    403: "the role, or the token, does not allow it",
    404: "not there, or none of the caller's",
    406: "only JSON is answered",
    409: "it clashes with what is there, or its state does not allow it",
    412: "it is no longer as the caller read it",
    413: "the body is too large",
    414: "the address is longer than the server before us reads; a page of its own",
    415: "only JSON is read",
    422: "refused, with every fault named",
    428: "If-Match is missing",
    429: "too many requests; see Retry-After",
    431: "the headers are longer than the server before us reads; a page of its own",
}
_BEFORE_US = (414, 431)
_EVERYWHERE = (400, 401, 403, 404, 406, 422, 429)
_ON_WRITES = (409, 413, 415)

IF_MATCH = {
    "name": "If-Match",
    "in": "header",
    "required": True,
    "schema": {"type": "string"},
    "description": "the ETag of the thing as it was read; without it the answer is 428",
}
IDEMPOTENCY_KEY = {
    "name": "Idempotency-Key",
    "in": "header",
    "schema": {"type": "string", "minLength": 1, "maxLength": 200, "pattern": "^[!-~]+$"},
    "description": "the same key within 24 hours makes nothing new and gets the first answer again",
}
PROBLEM = {
    "type": "object",
    "description": "problem details of RFC 9457",
    "required": ["type", "title", "status", "code", "detail", "faults"],
    "properties": {
        "type": {"type": "string"},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "code": {"type": "string", "description": "a short word for programs"},
        "detail": {"type": "string", "description": "what to do next, for people"},
        "faults": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["place", "message"],
                "properties": {"place": {"type": "string"}, "message": {"type": "string"}},
            },
        },
    },
}


class SiteSchema(AutoSchema):
    """Adds the headers that a view's methods take and the problems that any operation may answer."""

    def get_operation(
        self, path: str, path_regex: str, path_prefix: str, method: str, registry: ComponentRegistry
    ) -> dict[str, Any] | None:
        """The operation of one method."""
        operation = super().get_operation(path, path_regex, path_prefix, method, registry)
        if operation is None:
            return None
        headers = [
            header
            for header, methods in ((IF_MATCH, "matched"), (IDEMPOTENCY_KEY, "created"))
            if self.method in getattr(self.view, methods, ())
        ]
        if headers:
            operation["parameters"] = [*operation.get("parameters", []), *headers]
        statuses = {*_EVERYWHERE, *(_ON_WRITES if self.method != "GET" else ())}
        if IF_MATCH in headers:
            statuses |= {412, 428}
        operation["responses"] |= {str(status): _problem(status) for status in sorted(statuses)}
        operation["responses"] |= {str(status): {"description": _WORDS[status]} for status in _BEFORE_US}
        return operation

    def get_tags(self) -> list[str]:
        """Operations are grouped by their resource."""
        parts = [part for part in self.path.removeprefix("/api/v1/").split("/") if part]
        named = [part for part in parts[1:] if not part.startswith("{")]
        return [named[0] if named else parts[0]]


class WallTime(OpenApiSerializerFieldExtension):  # type: ignore[no-untyped-call]
    """A wall time has no zone, so it is none of RFC 3339's, which OpenAPI's format `time` asks for."""

    target_class = TimeField

    def map_serializer_field(self, auto_schema: AutoSchema, direction: str) -> dict[str, Any]:
        """Hours, minutes and perhaps seconds."""
        hours = "([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9])?"
        return {"type": "string", "pattern": f"^{hours}$", "example": "06:00:00"}


class DecimalInSchema(OpenApiSerializerFieldExtension):  # type: ignore[no-untyped-call]
    """A decimal is answered as text, which keeps its last digit; it may be sent as a number as well."""

    target_class = DecimalField
    match_subclasses = True

    def map_serializer_field(self, auto_schema: AutoSchema, direction: str) -> dict[str, Any]:
        """Text; in a request, text or a number."""
        text = auto_schema._map_serializer_field(self.target, direction, bypass_extensions=True)  # type: ignore[no-untyped-call]
        told = {"type": "string", "format": "decimal", "pattern": text["pattern"]}
        return told | ({"type": ["string", "number"]} if direction == "request" else {})


def add_problem(result: dict[str, Any], **_named: Any) -> dict[str, Any]:
    """Put the shape of a problem among the schema's components."""
    result.setdefault("components", {}).setdefault("schemas", {})["Problem"] = PROBLEM
    return result


def _problem(status: int) -> dict[str, Any]:
    shape = {"$ref": "#/components/schemas/Problem"}
    return {"description": _WORDS[status], "content": {MEDIA_TYPE: {"schema": shape}}}
