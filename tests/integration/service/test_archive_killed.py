"""A restore that is killed leaves an empty database, never half of one, and can be done again."""

import signal
import subprocess
import sys
from pathlib import Path

import pytest
from django.db import connection, transaction

from planner.models import AuditEvent, Site, User
from planner.services.archive import archive_restore, archive_write
from planner.services.archive.tables import archived_models
from tests.integration.service.test_archive import empty, rows
from tests.lib.mine import mine_equipped
from tests.lib.redis_worker import worker_environment

pytestmark = pytest.mark.django_db(transaction=True)
ROOT = Path(__file__).resolve().parents[3]
BEGIN = """
import os, signal, sys, django
django.setup()
from planner.services.archive import restoring
def killed(*_, **__):
    os.kill(os.getpid(), signal.SIGKILL)
"""
MOMENTS = {
    "before a row is written": "restoring._fill = killed",
    "with half of the tables written": """
chunks, left = restoring._chunks, [20]
def some(rows):
    for chunk in chunks(rows):
        left[0] -= 1
        if not left[0]:
            killed()
        yield chunk
restoring._chunks = some""",
    "with all of it written": "restoring._require_equal = killed",
    "with all of it proved": """
equal = restoring._require_equal
def proved(*told):
    equal(*told)
    killed()
restoring._require_equal = proved""",
}
END = "\nfrom pathlib import Path; restoring.archive_restore(path=Path(sys.argv[1]))"


@pytest.mark.parametrize("moment", MOMENTS)
def test_a_restore_killed_in_the_middle_leaves_nothing(moment: str, tmp_path: Path) -> None:
    mine = mine_equipped()
    mine.order("A1")
    path = tmp_path / "all.zip"
    before = {model: rows(model) for model in archived_models(None)}
    archive_write(path=path)
    with transaction.atomic():
        empty()
    connection.close()
    done = subprocess.run(
        [sys.executable, "-c", f"{BEGIN}{MOMENTS[moment]}{END}", str(path)],
        cwd=ROOT, env=worker_environment(), capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == -signal.SIGKILL, done.stderr[-2000:]
    assert not any(kind.objects.exists() for kind in (User, Site, AuditEvent))
    archive_restore(path=path)
    assert {model: rows(model) for model in archived_models(None)} == before
    assert [each.name for each in tmp_path.iterdir()] == ["all.zip"]
