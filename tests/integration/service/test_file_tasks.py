"""Large files by a worker: tried, kept, called off, lost with the queue, cut off with the worker."""

import io
import time
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone
from openpyxl import load_workbook

from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError, NotFoundError
from planner.domain.file_tasks import FileTaskKind, Pace
from planner.domain.permissions import Action, Role
from planner.models import CostPrice, FileTask, HeaterSet
from planner.selectors.file_tasks import file_task_get
from planner.services.api_tokens import api_token_make
from planner.services.audit import audit_chain_faults
from planner.services.file_tasks import work
from planner.services.file_tasks.asking import LARGE_BYTES, file_task_ask, file_task_cancel, file_task_keep
from planner.services.file_tasks.ending import file_tasks_resume
from planner.services.file_tasks.running import file_task_run
from planner.services.lost_work import lost_work_resume
from tests.lib.api import caller, told
from tests.lib.books import Books, books
from tests.lib.mine import mine_equipped
from tests.lib.redis_worker import RedisWorker

pytestmark = pytest.mark.django_db(transaction=True)
TASK = "planner.tasks.file_task"
HEADING = "kind,item,unit,amount,currency,loading,overtime factor,effective from,source\n"
ROWS = 2000


def prices(rows: int) -> str:
    """A file of so many prices."""
    return HEADING + "".join(
        f"labour,builder {number},h,45.50,AUD,0.2,1.5,2026-11-01,agreement of\n" for number in range(rows)
    )


LARGE = prices(ROWS)


@pytest.fixture
def sent(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, Any]]:
    """What was sent to the queue."""
    sent: list[tuple[str, Any]] = []
    monkeypatch.setattr(
        "celery.current_app.send_task", lambda name, args, *_, **__: sent.append((name, list(args)))
    )
    return sent


@pytest.fixture
def found(sent: list[tuple[str, Any]]) -> Books:
    return books()


def ask(found: Books, text: str = LARGE, *, keep: bool = False) -> FileTask:
    return file_task_ask(
        user=found.accountant, site=found.site, kind=FileTaskKind.BOOKS_IMPORT, name="prices.csv",
        raw=text.encode(), options={"holds": "prices", "keep": keep},
    )  # fmt: skip


def run(task: FileTask) -> FileTask:
    file_task_run(task_id=task.pk)
    task.refresh_from_db()
    return task


def new_prices() -> int:
    return CostPrice.objects.filter(item__startswith="builder ").count()


def accountant_on_pages(found: Books) -> Client:
    client = Client()
    client.force_login(found.accountant)
    return client


def test_a_large_file_is_tried_and_then_kept_by_a_worker(found: Books, sent: list[tuple[str, Any]]) -> None:
    assert len(LARGE) > LARGE_BYTES
    client, at = accountant_on_pages(found), f"/at/{found.site.code}"
    file = SimpleUploadedFile("prices.csv", LARGE.encode())
    page = client.post(f"{at}/accounts/import/", {"kind": "prices", "file": file}, follow=True)
    task = FileTask.objects.get()
    assert page.request["PATH_INFO"] == f"{at}/files/{task.pk}/"
    assert sent == [(TASK, [task.pk])]
    assert "It waits for its turn." in page.content.decode()
    run(task)
    seen = client.get(f"{at}/files/{task.pk}/").content.decode()
    assert "What it would do" in seen and f">{ROWS}<" in seen
    assert (task.told["sheets"][0]["added"], new_prices()) == (ROWS, 0)
    client.post(f"{at}/files/{task.pk}/keep/")
    kept = FileTask.objects.latest("pk")
    for _ in range(2):
        run(kept)
    assert (kept.state, new_prices()) == ("done", ROWS)
    assert "What it did" in client.get(f"{at}/files/{kept.pk}/").content.decode()
    assert audit_chain_faults(site=found.site) == ()
    with pytest.raises(ConflictError, match="was not tried"):
        file_task_keep(user=found.accountant, task=kept)


def test_faults_are_told_by_row_and_nothing_of_the_file_is_kept(found: Books) -> None:
    tried = run(ask(found, LARGE + "labour,,h,45,AUD,0.2,1.5,2026-11-01,agreement\n"))
    assert (tried.state, tried.told["fault_count"]) == ("done", 1)
    page = accountant_on_pages(found).get(f"/at/{found.site.code}/files/{tried.pk}/").content.decode()
    assert "1 fault. Nothing is imported until it is mended." in page
    assert "Import all of it" not in page
    kept = run(file_task_keep(user=found.accountant, task=tried))
    assert (kept.state, new_prices()) == ("failed", 0)
    assert f"nothing was imported: 1 faults, the first in row {ROWS + 2}" in kept.message


def test_what_waits_is_called_off_at_once_and_what_runs_leaves_nothing(
    found: Books, monkeypatch: pytest.MonkeyPatch
) -> None:
    waiting = ask(found, keep=True)
    file_task_cancel(user=found.accountant, task=waiting)
    assert (run(waiting).state, new_prices()) == ("cancelled", 0)
    import_apply, running = work.import_apply, ask(found, keep=True)

    def called_off_in_the_middle(*, pace: Pace, **named: Any) -> Any:
        done = import_apply(pace=pace, **named)
        FileTask.objects.filter(pk=running.pk).update(cancel_requested=True)
        return done

    monkeypatch.setattr(work, "import_apply", called_off_in_the_middle)
    assert (run(running).state, new_prices()) == ("cancelled", 0)
    with pytest.raises(ConflictError):
        file_task_cancel(user=found.accountant, task=running)


def test_a_watch_stops_it_at_a_row(found: Books, monkeypatch: pytest.MonkeyPatch) -> None:
    task = ask(found, keep=True)
    asked = iter(range(ROWS * 3))
    monkeypatch.setattr("planner.services.file_tasks.watch.FileWatch.stop", lambda _: next(asked) == 900)
    assert (run(task).state, next(asked), new_prices()) == ("cancelled", 901, 0)


def test_what_was_lost_with_the_queue_is_sent_again_and_then_ends(
    found: Books, sent: list[tuple[str, Any]]
) -> None:
    task = ask(found)
    sent.clear()
    lost_work_resume()
    assert sent == []
    aged(task, minutes=3)
    lost_work_resume()
    assert sent == [(TASK, [task.pk])]
    aged(task, minutes=16)
    lost_work_resume()
    task.refresh_from_db()
    assert (task.state, "No worker took it up" in task.message) == ("failed", True)


def aged(task: FileTask, minutes: int) -> None:
    then = timezone.now() - timedelta(minutes=minutes)
    FileTask.objects.filter(pk=task.pk).update(asked_at=then, heard_at=then)


def test_a_fault_of_ours_ends_it_and_says_so(found: Books, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(**_: Any) -> None:
        raise RuntimeError("a fault of ours")

    monkeypatch.setattr(work, "import_preview", broken)
    task = ask(found)
    with pytest.raises(RuntimeError):
        file_task_run(task_id=task.pk)
    task.refresh_from_db()
    assert (task.state, task.message) == ("failed", "The worker failed. The fault is in the server's log.")


def test_only_who_may_import_asks_reads_and_calls_off(found: Books) -> None:
    task = ask(found)
    planner = found.people[Role.PLANNER]
    with pytest.raises(NotAllowedError):
        file_task_ask(user=planner, site=found.site, kind=FileTaskKind.BOOKS_IMPORT)
    with pytest.raises(NotFoundError):
        file_task_get(user=planner, site=found.site, task_id=task.pk)
    with pytest.raises(NotAllowedError):
        file_task_cancel(user=planner, task=task)
    with pytest.raises(InvalidValueError, match="no such option"):
        file_task_ask(
            user=found.accountant, site=found.site, kind=FileTaskKind.REPAIRS_EXPORT, options={"keep": True}
        )
    for _ in range(4):
        ask(found)
    with pytest.raises(ConflictError, match="are in hand"):
        ask(found)


def test_a_token_reads_no_further_than_it_was_made_for(found: Books) -> None:
    task = run(ask(found))
    expires_at = timezone.now() + timedelta(days=1)
    for actions, status in (([Action.SITE_READ], 404), ([Action.SITE_READ, Action.MONEY_CHANGE], 200)):
        _, secret = api_token_make(
            user=found.accountant, site=found.site, name="reader", actions=actions, expires_at=expires_at
        )
        path = f"sites/{found.site.code}/file-tasks/{task.pk}/"
        assert caller(None, secret).get(path).status_code == status


def test_the_site_goes_out_by_a_worker_over_the_api(sent: list[tuple[str, Any]]) -> None:
    mine = mine_equipped()
    administrator = caller(mine.users["administrator"])
    path = "sites/ridge/file-tasks/"
    asked = administrator.post(f"{path}site-exports/", idempotency_key="out-1")
    again = administrator.post(f"{path}site-exports/", idempotency_key="out-1")
    assert (asked.status_code, told(again)["id"]) == (201, told(asked)["id"])
    one = f"{path}{told(asked)['id']}/"
    assert administrator.get(f"{one}result/").status_code == 404
    run(FileTask.objects.get())
    done = administrator.get(one)
    assert (told(done)["state"], told(done)["result_name"]) == ("done", "ridge.xlsx")
    file = administrator.get(f"{one}result/")
    assert file["Content-Disposition"] == 'attachment; filename="ridge.xlsx"'
    sets = load_workbook(io.BytesIO(file.content))["heater sets"]
    assert sets.max_row == HeaterSet.objects.count() + 1
    assert administrator.post(f"{one}cancel/").status_code == 409
    assert told(caller(mine.users["technician"]).get(path))["results"] == []


def test_repairs_go_out_by_a_worker(found: Books) -> None:
    task = run(
        file_task_ask(
            user=found.accountant,
            site=found.site,
            kind=FileTaskKind.REPAIRS_EXPORT,
            options={"form": "csv", "month": "2026-11"},
        )
    )
    assert (task.state, task.result_name) == ("done", f"repairs-{found.site.code}.csv")
    assert bytes(task.result_raw).decode("utf-8-sig").startswith("Order,Tyre,")


@pytest.fixture
def worker(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[RedisWorker]:
    worker = RedisWorker(tmp_path / "worker.log")
    monkeypatch.setattr("celery.current_app.send_task", worker.send)
    yield worker
    worker.end()


def until(task: FileTask, *states: str) -> None:
    deadline = time.monotonic() + 60
    while task.state not in states:
        assert time.monotonic() < deadline, (task.state, task.message)
        time.sleep(0.02)
        task.refresh_from_db()


@pytest.mark.redis
def test_a_worker_killed_in_the_middle_leaves_nothing_of_the_file(worker: RedisWorker) -> None:
    found = books()
    # So large that it is under way for seconds, whenever this process gets its turn to look.
    task = ask(found, prices(10 * ROWS), keep=True)
    until(task, "running")
    worker.kill()
    assert file_tasks_resume(silent_for=timedelta(0)) == 1
    task.refresh_from_db()
    assert (task.state, new_prices()) == ("failed", 0)
    assert "Nothing of the file was kept" in task.message
    worker.start()
    again = ask(found, keep=True)
    until(again, "done", "failed")
    assert (again.state, new_prices()) == ("done", ROWS)
