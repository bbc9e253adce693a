"""Whatever stands in a problem file: it is read, or its faults are named. Nothing else happens."""

import json
from copy import deepcopy
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.scheduling.faults import FaultyFileError
from planner.scheduling.problem_format import problem_read, problem_write
from tests.lib.random_bays import random_bay

ODD: tuple[Any, ...] = (
    None, True, 0, -1, 1.5, 1e300, float("nan"), "", "x", "\ud800", "J1", [], {}, [[]], {"a": 1},
    "2026-03-02T00:00:00", "9999-12-31T23:59:00+00:00", 10**30,
)  # fmt: skip


def _spots(value: Any) -> list[tuple[Any, Any]]:
    """Every container with every key or index in it."""
    keys = list(value) if isinstance(value, dict) else list(range(len(value)))
    inner = [value[key] for key in keys if isinstance(value[key], dict | list)]
    return [(value, key) for key in keys] + [spot for item in inner for spot in _spots(item)]


@settings(max_examples=300, deadline=None, database=None)
@given(seed=st.integers(0, 10**6), changes=st.integers(1, 4))
def test_a_changed_file_is_read_or_refused(seed: int, changes: int) -> None:
    random = Random(seed)
    root = json.loads(problem_write(random_bay(seed % 50)))
    for _ in range(changes):
        here, key = random.choice(_spots(root))
        if random.random() < 0.2:
            del here[key]
        else:
            here[key] = deepcopy(random.choice(ODD))
    try:
        problem_read(json.dumps(root).encode())
    except FaultyFileError as error:
        assert error.faults
        assert str(error).encode()


@pytest.mark.parametrize("seed", range(40))
def test_what_is_written_is_read_as_the_same(seed: int) -> None:
    problem = random_bay(seed)
    assert problem_read(problem_write(problem)).problem == problem
