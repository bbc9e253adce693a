"""Workers killed with levers, odds or a large file in their hands, and a queue lost; for `work_kills`."""

import time
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from unittest.mock import patch

from celery import current_app
from django.core.cache import cache
from django.utils import timezone

from planner.domain.file_tasks import FileTaskKind
from planner.models import CostPrice, FileTask, LeverQuestion, LeverTrialRow, Plan, PlanBuild, PlanReplay
from planner.services.file_tasks.asking import file_task_ask
from planner.services.file_tasks.ending import file_tasks_resume
from planner.services.lever_endings import OPEN, levers_resume
from planner.services.lever_questions import levers_ask
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_reap, plan_build_start
from planner.services.plan_replays import plan_replay_ask, plan_replays_resume
from tests.lib.mine import Mine, at, mine_equipped
from tests.lib.own_redis import OwnRedis
from tests.lib.redis_worker import RedisWorker
from tests.load.killed_files import prices

NO_TIME = timedelta(0)
SECONDS_TO_END = 240
FILE_ROWS = 5000


def levers_killed(folder: Path, moments: list[float]) -> list[str]:
    """Each life of a worker ends in the middle of a lever, or of the bay as it is."""
    mine = _mine()
    plan, worker = _draft(mine), RedisWorker(folder / "worker.log")
    try:
        with patch.object(current_app, "send_task", worker.send):
            for moment in moments:
                question = levers_ask(user=mine.supervisor, plan=plan, seconds=1)
                _wait(lambda question=question: _is_at_work(question))  # type: ignore[misc]
                time.sleep(moment)
                worker.kill()
                levers_resume(silent_for=NO_TIME)
                worker.start()
            _wait(lambda: not LeverQuestion.objects.filter(state__in=OPEN).exists())
    finally:
        worker.end()
    ends = _counted(LeverTrialRow.objects.values_list("state", flat=True))
    print(f"questions {_counted(LeverQuestion.objects.values_list('state', flat=True))}, trials {ends}")
    return [f"{n} levers still {state}" for state, n in ends.items() if state in OPEN]


def files_killed(folder: Path, moments: list[float]) -> list[str]:
    """Each life of a worker ends in the middle of an import: all of the file stands and says so, or none."""
    mine, worker, faults = _mine(), RedisWorker(folder / "worker.log"), []
    accountant = mine.users["accountant"]
    try:
        with patch.object(current_app, "send_task", worker.send):
            for number, moment in enumerate(moments):
                task = file_task_ask(
                    user=accountant, site=mine.site, kind=FileTaskKind.BOOKS_IMPORT, name="prices.csv",
                    raw=prices(number, FILE_ROWS).encode(), options={"holds": "prices", "keep": True},
                )  # fmt: skip
                _wait(lambda task=task: _state_of(task) != "queued")  # type: ignore[misc]
                time.sleep(moment)
                worker.kill()
                file_tasks_resume(silent_for=NO_TIME)
                stands = CostPrice.objects.filter(source=f"file {number}").count()
                if (_state_of(task), stands) not in (("done", FILE_ROWS), ("failed", 0)):
                    faults.append(f"file {number}: {_state_of(task)} with {stands} of {FILE_ROWS} rows")
                worker.start()
    finally:
        worker.end()
    print(f"files {_counted(FileTask.objects.values_list('state', flat=True))}")
    return faults


def _state_of(task: FileTask) -> str:
    return str(FileTask.objects.values_list("state", flat=True).get(pk=task.pk))


def _is_at_work(question: LeverQuestion) -> bool:
    """Whether the worker has something of it in its hands, or all of it is over."""
    question.refresh_from_db()
    if question.state == "running" and not question.baseline_json:
        return True
    return question.state not in OPEN or question.trials.filter(state="running").exists()


def odds_killed(folder: Path, moments: list[float]) -> list[str]:
    """Each life of a worker ends in the middle of a replay; the plan's odds stand whole, or not at all."""
    mine, faults = _mine(), []
    plan, worker = _draft(mine), RedisWorker(folder / "worker.log")
    Plan.objects.update(made_at=timezone.now() - timedelta(minutes=5))
    with_odds = 0
    try:
        with patch.object(current_app, "send_task", worker.send):
            for moment in moments:
                PlanReplay.objects.all().delete()
                plan_replay_ask(user=mine.supervisor, plan=plan)
                _wait(lambda: worker.has_taken_all)
                time.sleep(moment / 4)
                worker.kill()
                faults += _half_replays(plan)
                with_odds += PlanReplay.objects.exists()
                worker.start()
            PlanReplay.objects.all().delete()
            cache.clear()
            plan_replays_resume()
            _wait(PlanReplay.objects.exists)
    finally:
        worker.end()
    print(f"{with_odds} killed after their odds were kept, {len(moments) - with_odds} before")
    return faults + _half_replays(plan)


def _half_replays(plan: Plan) -> list[str]:
    row = PlanReplay.objects.filter(plan=plan).first()
    if row is None or row.jobs.count() == plan.job_count:
        return []
    return [f"{row} holds {row.jobs.count()} of {plan.job_count} jobs"]


def redis_killed(folder: Path, moments: list[float]) -> list[str]:
    """The queue is lost under a plan in the making and comes back empty; the same worker goes on."""
    mine = _mine()
    with OwnRedis() as redis:
        worker = RedisWorker(folder / "worker.log", redis.url)
        try:
            with patch.object(current_app, "send_task", worker.send):
                for moment in moments:
                    build = plan_build_start(
                        user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), seconds=3
                    )
                    _wait(lambda build=build: _state(build) != "queued")  # type: ignore[misc]
                    time.sleep(moment)
                    redis.kill()
                    time.sleep(moment / 2)
                    redis.start()
                    _wait(lambda build=build: _state(build) not in OPEN)  # type: ignore[misc]
        finally:
            worker.end()
    plan_build_reap()
    ends = _counted(PlanBuild.objects.values_list("state", flat=True))
    print(f"builds {ends}")
    return [f"{n} builds {state}" for state, n in ends.items() if state != "done"]


def _state(build: PlanBuild) -> str:
    build.refresh_from_db()
    return build.state


def _mine() -> Mine:
    mine = mine_equipped()
    for number in range(4):
        mine.order(f"A{number}")
    return mine


def _draft(mine: Mine) -> Plan:
    with patch.object(current_app, "send_task", lambda *_, **__: None):
        build = plan_build_start(
            user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), seconds=2
        )
        plan = plan_build_run(build_id=build.pk)
    assert plan is not None
    return plan


def _wait(until: Callable[[], bool]) -> None:
    deadline = time.monotonic() + SECONDS_TO_END
    while not until():
        assert time.monotonic() < deadline, "it goes on for ever"
        time.sleep(0.02)


def _counted(words: object) -> dict[str, int]:
    told = list(words)  # type: ignore[call-overload]
    return {word: told.count(word) for word in sorted(set(told))}
