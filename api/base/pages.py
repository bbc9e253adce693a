"""Lists come in pages."""

from typing import Any

from django.core.paginator import Paginator
from rest_framework.exceptions import ValidationError
from rest_framework.pagination import PageNumberPagination
from rest_framework.request import Request

_MOST = 200


class Pages(PageNumberPagination):
    """50 rows unless `page_size` asks for another number, 200 at most; a number that is none is told."""

    page_size = 50
    page_size_query_param = "page_size"
    max_page_size = _MOST

    def get_page_size(self, request: Request) -> int:
        """How many rows, as asked."""
        asked = request.query_params.getlist("page_size")
        if any(not _is_counted(each) or int(each[:9]) > _MOST for each in asked):
            raise ValidationError({"page_size": [f"write a whole number from 1 to {_MOST}"]})
        return int(asked[-1]) if asked else self.page_size

    def get_page_number(self, request: Request, paginator: "Paginator[Any]") -> int:
        """Which page, as asked; past the last one there is none."""
        asked = request.query_params.getlist("page")
        if not all(_is_counted(each) for each in asked):
            raise ValidationError({"page": ["write a whole number from 1"]})
        return int(asked[-1][:9]) if asked else 1

    def get_schema_operation_parameters(self, view: Any) -> list[dict[str, Any]]:
        """Both numbers with their bounds."""
        told: list[dict[str, Any]] = super().get_schema_operation_parameters(view)
        for each in told:
            each["schema"] |= {"minimum": 1} | ({"maximum": _MOST} if each["name"] == "page_size" else {})
        return told


def _is_counted(word: str) -> bool:
    """Whether it is a whole number from 1. ASCII alone: other scripts' digits are none of JSON's."""
    return word.isascii() and word.isdigit() and int(word[:9]) >= 1
