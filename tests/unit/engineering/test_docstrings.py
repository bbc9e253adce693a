"""Docstrings of the engineering core: units at every input, doctests that run."""

import doctest
import importlib
import inspect
import pkgutil
import re
from types import ModuleType

import pytest

from planner.engineering import cure, cure_log, heat

UNIT = re.compile(r"_(m|mm|min|c|w_mk|m2k_w|w_m2k|kg_m3|j_kgk|j_mol|j_m2|m2|kwh|j_k|w_k|kpa|c_min)$")
UNIT_TEXT = {
    "m": "m", "mm": "mm", "min": "min", "c": "°C", "w_mk": "W/mK", "m2k_w": "m2K/W", "w_m2k": "W/m2K",
    "kg_m3": "kg/m3", "j_kgk": "J/kgK", "j_mol": "J/mol", "j_m2": "J/m2", "m2": "m2", "kwh": "kWh",
    "j_k": "J/K", "w_k": "W/K", "kpa": "kPa", "c_min": "°C/min",
}  # fmt: skip
ARGUMENT = re.compile(r"^\s+(\w+): (.*(?:\n\s{8,}\S.*)*)", re.MULTILINE)


def modules() -> list[ModuleType]:
    names = [
        each.name
        for package in (heat, cure, cure_log)
        for each in pkgutil.iter_modules(package.__path__, f"{package.__name__}.")
    ]
    return [importlib.import_module(name) for name in names]


def documented() -> list[tuple[str, str]]:
    """Every public function and class of the core with its docstring."""
    return [
        (f"{module.__name__}.{name}", inspect.getdoc(thing) or "")
        for module in modules()
        for name, thing in vars(module).items()
        if getattr(thing, "__module__", "") == module.__name__
        and not name.startswith("_")
        and callable(thing)
    ]


def wrong_units(doc: str) -> list[str]:
    """Arguments whose name ends in a unit that their text does not tell in brackets."""
    wrong = []
    for name, text in ARGUMENT.findall(doc):
        unit = UNIT.search(name)
        if unit and f"[{UNIT_TEXT[unit.group(1)]}]" not in text:
            wrong.append(name)
    return wrong


def test_the_reader_sees_a_missing_and_a_wrong_unit() -> None:
    doc = "Args:\n    depth_m: how deep.\n    hold_c: of pads [K].\n    time_min: ok [min]."
    assert wrong_units(doc) == ["depth_m", "hold_c"]


@pytest.mark.parametrize(("name", "doc"), documented(), ids=[name for name, _ in documented()])
def test_every_argument_tells_its_unit(name: str, doc: str) -> None:
    assert doc, f"{name} has no docstring"
    assert wrong_units(doc) == []


def test_the_core_has_doctests_and_all_of_them_hold() -> None:
    results = [doctest.testmod(module) for module in modules()]
    assert sum(result.attempted for result in results) >= 15
    assert sum(result.failed for result in results) == 0
