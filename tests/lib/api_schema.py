"""The generated schema, opened operation by operation."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from django.urls import resolve
from drf_spectacular.generators import SchemaGenerator

VALUES = {"site": "ridge", "month": "2026-03"}
METHODS = ("get", "post", "put", "patch", "delete")


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One method at one address of the schema."""

    id: str
    method: str
    template: str
    told: dict[str, Any] = field(repr=False)

    @property
    def path(self) -> str:
        """The address on the site `ridge`, at rows with the number 1."""
        values = {name: VALUES.get(name, "1") for name in self.parameters("path")}
        return self.template.format(**values)

    @property
    def view(self) -> type[Any]:
        """The class of the view that answers."""
        view: type[Any] = resolve(self.path).func.view_class  # type: ignore[attr-defined]
        return view

    def parameters(self, place: str) -> list[str]:
        """The names of the parameters in the path, the query or the headers."""
        return [each["name"] for each in self.told.get("parameters", ()) if each["in"] == place]


@cache
def api_schema() -> dict[str, Any]:
    """The whole schema."""
    schema: dict[str, Any] = SchemaGenerator().get_schema(request=None, public=True)  # type: ignore[no-untyped-call]
    return schema


def operations() -> Iterator[Operation]:
    """Every operation of the schema."""
    for template, methods in api_schema()["paths"].items():
        for method in METHODS:
            if method in methods:
                told = methods[method]
                yield Operation(id=told["operationId"], method=method.upper(), template=template, told=told)
