"""What stands in the repository: the top level, sizes, locks, and words that may not stand in it."""

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "manage.py",
    "docker-compose.yml",
    "planner",
    "api",
    "tests",
}
TOP |= {"fixtures"}
MOST_LINES_IN_A_FILE = 400
MOST_LINES_IN_A_FUNCTION = 50
# Joined here, so that this file holds none of them itself.
FORBIDDEN = [
    "pypi" + r"\.org",
    "python" + "hosted",
    "npm" + r"js\.org",
    "debian" + r"\.org",
    "/wo" + "rk/",
    r"\.\./sha" + "red/",
]


def _tracked() -> list[Path]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    return [ROOT / name for name in listed.stdout.split("\0") if name and (ROOT / name).exists()]


def _own_python() -> list[Path]:
    return [path for path in _tracked() if path.suffix == ".py" and "migrations" not in path.parts]


def _functions(path: Path) -> Iterator[tuple[str, int]]:
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield f"{path.relative_to(ROOT)}:{node.name}", (node.end_lineno or node.lineno) - node.lineno + 1


def test_top_level_is_exactly_the_layout() -> None:
    top = {path.relative_to(ROOT).parts[0] for path in _tracked()}
    assert {name for name in top if not name.startswith(".")} == TOP


def test_no_file_is_too_long() -> None:
    lengths = {path.relative_to(ROOT): len(path.read_text().splitlines()) for path in _own_python()}
    assert {path: length for path, length in lengths.items() if length > MOST_LINES_IN_A_FILE} == {}


def test_no_function_is_too_long() -> None:
    lengths = [pair for path in _own_python() for pair in _functions(path)]
    assert [pair for pair in lengths if pair[1] > MOST_LINES_IN_A_FUNCTION] == []


def test_no_download_host_or_foreign_path_stands_in_a_file() -> None:
    found = []
    for path in _tracked():
        text = path.read_bytes().decode("utf-8", errors="ignore")
        found += [f"{path.relative_to(ROOT)}: {word}" for word in FORBIDDEN if re.search(word, text)]
    assert found == []
