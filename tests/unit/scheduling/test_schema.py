"""The published schemas are those of the shapes, and agree with the readers."""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from planner.scheduling.problem_format import problem_write
from planner.scheduling.schema import plan_schema, problem_schema
from tests.lib.malformed import CASES, table
from tests.lib.random_bays import random_bay

FOLDER = Path(__file__).parents[3] / "fixtures" / "schema"
OF_ONE_VALUE = ("no work", "text for a number", "true for a number", "a number for true", "null for a list")
MORE_OF_ONE_VALUE = (
    "half a channel",
    "no offset",
    "beyond all measure",
    "an unknown kind",
    "a missing field",
)


@pytest.mark.parametrize(
    ("name", "schema"), [("bay-problem-1", problem_schema()), ("bay-plan-1", plan_schema())]
)
def test_the_published_schema_is_current(name: str, schema: dict[str, Any]) -> None:
    Draft202012Validator.check_schema(schema)
    assert json.loads((FOLDER / f"{name}.schema.json").read_text()) == schema


@pytest.mark.parametrize("seed", range(10))
def test_good_problems_fit_the_schema(seed: int) -> None:
    Draft202012Validator(problem_schema()).validate(json.loads(problem_write(random_bay(seed))))


@pytest.mark.parametrize("name", [*OF_ONE_VALUE, *MORE_OF_ONE_VALUE, "an unknown field", "another format"])
def test_a_fault_of_one_value_breaks_the_schema_too(name: str) -> None:
    root = table()
    CASES[name][0](root)
    assert not Draft202012Validator(problem_schema()).is_valid(root)
