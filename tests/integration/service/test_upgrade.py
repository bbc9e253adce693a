"""Every kept release is upgraded to this one: its data stays, its chain is whole, its plans verify."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.lib.baseline import ROOT, baseline_load, manage

KEPT = sorted((ROOT / "fixtures" / "upgrade").glob("*.sql.gz"))
# Tables whose rows an upgrade may add to, and never take from.
COUNTED = (
    "planner_site", "planner_user", "planner_workorder", "planner_damage", "planner_plan",
    "planner_stagerun", "planner_auditevent", "planner_shift", "planner_routestage",
)  # fmt: skip


def counts(path: Path) -> dict[str, int]:
    with closing(sqlite3.connect(path)) as database:
        return {table: database.execute(f"select count(*) from {table}").fetchone()[0] for table in COUNTED}  # noqa: S608


@pytest.mark.parametrize("kept", KEPT, ids=lambda path: path.name.removesuffix(".sql.gz"))
def test_a_kept_release_is_upgraded_with_its_data(kept: Path, tmp_path: Path) -> None:
    path = baseline_load(tmp_path, kept)
    before = counts(path)
    assert before["planner_plan"] == 1 and before["planner_auditevent"] >= 50
    done = manage(tmp_path, "migrate", "--noinput", "-v0")
    assert done.returncode == 0, done.stderr
    assert counts(path) == before
    assert manage(tmp_path, "migrate", "--check").returncode == 0
    chain = manage(tmp_path, "audit_chain_check")
    assert chain.returncode == 0, chain.stdout
    whole = "from tests.load.invariants import invariant_faults as f; print(f())"
    assert manage(tmp_path, "shell", "--no-imports", "-v0", "-c", whole).stdout.strip() == "[]"


def test_there_is_a_release_to_upgrade_from() -> None:
    assert KEPT
