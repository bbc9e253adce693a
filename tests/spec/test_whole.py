"""Every rule of the bay has its folder here, where every rule of the solver is taken out once."""

from importlib import import_module
from pathlib import Path

from planner.scheduling.verify.rules import RULES
from planner.solver.rules import ALL
from tests.lib.rule_spec import ModelledRuleSpec, RuleSpec

HERE = Path(__file__).parent


def _spec(stem: str) -> type[RuleSpec]:
    name = f"Test{stem.title().replace('_', '')}"
    spec: type[RuleSpec] = getattr(import_module(f"tests.spec.{stem}.test_{stem}"), name)
    return spec


def test_every_rule_has_its_folder() -> None:
    folders = {path.name for path in HERE.iterdir() if path.is_dir() and not path.name.startswith("__")}
    assert folders == {*RULES, "account"}
    assert [stem for stem in RULES if _spec(stem).stem != stem] == []


def test_every_rule_of_the_solver_is_taken_out_once() -> None:
    modelled = {stem for stem in RULES if issubclass(_spec(stem), ModelledRuleSpec)}
    assert modelled == {rule.stem for rule in ALL}
