"""Reading a body: JSON in UTF-8 (RFC 8259, section 8.1), whatever charset a caller names."""

import json
from collections.abc import Mapping
from math import isfinite
from typing import IO, Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import BaseParser


class Utf8JsonParser(BaseParser):
    """JSON as it is exchanged: no NaN, no other charset, no nest or number beyond what can be read."""

    media_type = "application/json"

    def parse(
        self,
        stream: IO[bytes],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        """The value that was sent."""
        try:
            text = stream.read().decode("utf-8-sig")
            return json.loads(text, parse_constant=_refused, parse_float=_finite)
        except RecursionError as fault:
            raise ParseError("the body nests deeper than is read here") from fault
        except ValueError as fault:
            raise ParseError(f"the body is no JSON in UTF-8: {fault}") from fault


def _finite(text: str) -> float:
    number = float(text)
    if not isfinite(number):
        raise ValueError(f"{text[:20]} is beyond every number that is read here")
    return number


def _refused(name: str) -> None:
    raise ValueError(f"{name} is no number of JSON")
