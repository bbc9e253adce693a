"""The JSON Schemas (draft 2020-12) of the formats, generated from the shapes that read the files.

A schema says all that holds of one value by itself. What holds between values (ids that must be known, spans
that end after they start, a heat block in one piece) is the reader's to say.
"""

from typing import Any

from planner.scheduling.plan_format.tables import PLAN, PLAN_FORMAT
from planner.scheduling.problem_format.tables import PROBLEM, PROBLEM_FORMAT
from planner.scheduling.shapes.kinds import JsonSchema

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def problem_schema() -> JsonSchema:
    """The schema of `bay-problem/1`."""
    return _schema(PROBLEM.schema(), PROBLEM_FORMAT)


def plan_schema() -> JsonSchema:
    """The schema of `bay-plan/1`."""
    return _schema(PLAN.schema(), PLAN_FORMAT)


def _schema(root: JsonSchema, name: str) -> JsonSchema:
    definitions: dict[str, JsonSchema] = {}
    body = {key: _hoisted(value, definitions) for key, value in root.items()}
    named = {"$schema": _DIALECT, "$id": f"urn:tyrewright:{name.replace('/', ':')}"}
    return {**named, **body, "$defs": dict(sorted(definitions.items()))}


def _hoisted(value: Any, definitions: dict[str, JsonSchema]) -> Any:
    """The same schema with each titled object moved to the definitions, so that each stands there once."""
    if isinstance(value, list):
        return [_hoisted(item, definitions) for item in value]
    if not isinstance(value, dict):
        return value
    inner = {key: _hoisted(item, definitions) for key, item in value.items()}
    title = inner.get("title")
    if not isinstance(title, str):
        return inner
    about = {"description": inner.pop("description")} if "description" in inner else {}
    name = title.removeprefix("a ").removeprefix("the ").replace(" ", "_")
    definitions[name] = inner
    return {"$ref": f"#/$defs/{name}", **about}
