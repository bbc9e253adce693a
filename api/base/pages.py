"""Lists come in pages."""

from typing import Any

from rest_framework.exceptions import ValidationError
from rest_framework.pagination import PageNumberPagination
from rest_framework.request import Request

_MOST = 200


class Pages(PageNumberPagination):
    """50 rows unless `page_size` asks for another number, 200 at most; a size that is none is told."""

    page_size = 50
    page_size_query_param = "page_size"
    max_page_size = _MOST

    def get_page_size(self, request: Request) -> int:
        """How many rows, as asked."""
        asked = request.query_params.getlist("page_size")
        if not asked:
            return self.page_size
        # ASCII alone: other scripts' digits are none of JSON's.
        if any(not (each.isascii() and each.isdigit()) or not 1 <= int(each[:9]) <= _MOST for each in asked):
            raise ValidationError({"page_size": [f"write a whole number from 1 to {_MOST}"]})
        return int(asked[-1])

    def get_schema_operation_parameters(self, view: Any) -> list[dict[str, Any]]:
        """Both numbers with their bounds."""
        told: list[dict[str, Any]] = super().get_schema_operation_parameters(view)
        for each in told:
            each["schema"] |= {"minimum": 1} | ({"maximum": _MOST} if each["name"] == "page_size" else {})
        return told
