"""What the code imports is asked for by name, and the locks pin it by hash."""

import ast
import json
import re
import subprocess
import sys
from importlib.metadata import PackageNotFoundError, packages_distributions, requires
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LOCKS = ROOT / ".locks"
OURS = {"planner", "api", "tests"}
# Peers that a benchmark compares with; they need an environment of their own.
PEERS = {"pyjobshop"}


def _asked(name: str) -> set[str]:
    """The packages of an `.in` file, and of those that it builds on."""
    found: set[str] = set()
    for line in (LOCKS / name).read_text().splitlines():
        found |= (
            _asked(line.removeprefix("-r ")) if line.startswith("-r ") else {re.split(r"[<>=\[]", line)[0]}
        )
    return {_plain(package) for package in found if package}


def _plain(package: str) -> str:
    """A package's name as registries compare it."""
    return re.sub(r"[-_.]+", "-", package).lower()


def _imported(*folders: str) -> dict[str, str]:
    """Each foreign top-level name that the folders import, and one file that does."""
    found: dict[str, str] = {}
    for path in [path for folder in folders for path in (ROOT / folder).rglob("*.py")]:
        for node in ast.walk(ast.parse(path.read_text())):
            for name in _names(node):
                if name not in sys.stdlib_module_names and name not in OURS | PEERS:
                    found[name] = str(path.relative_to(ROOT))
    return found


def _names(node: ast.AST) -> list[str]:
    modules: list[str] = []
    if isinstance(node, ast.Import):
        modules = [alias.name for alias in node.names]
    elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
        modules = [node.module]
    return [module.partition(".")[0] for module in modules]


@pytest.mark.parametrize(("folders", "asked"), [(("planner", "api"), "runtime.in"), (("tests",), "tests.in")])
def test_every_import_is_asked_for(folders: tuple[str, ...], asked: str) -> None:
    packages = packages_distributions()
    missing = {
        name: place
        for name, place in _imported(*folders).items()
        if not set(map(_plain, packages.get(name, []))) & _asked(asked)
    }
    assert missing == {}


@pytest.mark.parametrize("name", ["runtime", "tests", "bench"])
def test_everything_asked_for_is_pinned(name: str) -> None:
    pinned = re.findall(
        r"^([A-Za-z0-9_.-]+)(?:\[[^\]]*\])?==", (LOCKS / f"{name}.txt").read_text(), re.MULTILINE
    )
    assert _asked(f"{name}.in") - set(map(_plain, pinned)) == set()


def test_both_locks_pin_the_same_versions() -> None:
    pins = [
        dict(re.findall(r"^([A-Za-z0-9_.\[\]-]+)==(\S+)", (LOCKS / f"{name}.txt").read_text(), re.MULTILINE))
        for name in ("runtime", "tests")
    ]
    assert {name: (pin, pins[1].get(name)) for name, pin in pins[0].items() if pins[1].get(name) != pin} == {}


def test_locks_pin_every_package_by_hash_and_name_no_address() -> None:
    for lock in LOCKS.glob("*.txt"):
        text = lock.read_text()
        assert "://" not in text
        pins = re.findall(r"^[A-Za-z0-9_.\[\]-]+==.*\\$", text, re.MULTILINE)
        assert pins
        assert len(pins) == len(re.findall(r"^[A-Za-z0-9]", text, re.MULTILINE)), lock.name


def test_a_package_wanted_with_an_extra_is_pinned_with_it() -> None:
    # A pip before 23.3 reaches past `name==1` for `name[extra]` as soon as the index has a `name` 2.
    pinned = set(re.findall(r"^([\w.-]+\[[\w.-]+\])==", (LOCKS / "tests.txt").read_text(), re.MULTILINE))
    here = set(re.findall(r"^([\w.-]+)[=\[]", (LOCKS / "tests.txt").read_text(), re.MULTILINE))
    wanted = {
        re.match(r"[\w.-]+\[[\w.-]+\]", need)
        for name in here
        for need in _needs(name)
        if "extra ==" not in need
    }
    assert {_plain(each[0]) for each in wanted if each} - {_plain(each) for each in pinned} == set()


def _needs(name: str) -> list[str]:
    """What an installed package asks for; nothing of one that this platform does not install."""
    try:
        return requires(name) or []
    except PackageNotFoundError:
        return []


def test_every_dependency_has_its_reason() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text()
    reasons = text.partition("## Dependencies and why")[2].partition("\n## ")[0].lower()
    asked = set().union(*(_asked(name) for name in ("runtime.in", "tests.in", "bench.in")))
    assert [name for name in sorted(asked) if f"`{name}`" not in reasons] == []


def test_the_bill_of_materials_names_all_that_is_locked_and_every_image() -> None:
    """CycloneDX 1.6 (ECMA-424; its members from memory) and package URLs (`pkg:type/name@version`)."""
    done = subprocess.run([sys.executable, ".ci/sbom"], cwd=ROOT, capture_output=True, text=True, check=True)
    bill = json.loads(done.stdout)
    assert (bill["bomFormat"], bill["specVersion"]) == ("CycloneDX", "1.6")
    named = {f"{each['name']}=={each['version']}" for each in bill["components"] if each["type"] == "library"}
    lines = (LOCKS / "runtime.txt").read_text().splitlines()
    locked = [re.sub(r"\[.*\]", "", line.split()[0]) for line in lines if "==" in line]
    assert named == set(locked) and len(named) > 60
    assert {each["name"] for each in bill["components"] if each["type"] == "container"} == {
        "nginxinc/nginx-unprivileged", "postgres", "python", "redis",
    }  # fmt: skip
    for each in bill["components"]:
        assert re.fullmatch(r"pkg:(pypi|docker)/[\w./-]+@[\w.!+-]+", each["purl"])
        # Two are for other machines than this one.
        is_here = each["name"] not in {"async-timeout", "brotlicffi"}
        assert each["type"] == "container" or (each["hashes"] and (each["licenses"] or not is_here))
