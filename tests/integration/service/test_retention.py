"""Retention: what has served its time goes, what others need or what was signed stays."""

import io
from datetime import timedelta

import pytest
from django.conf import settings
from django.core.management import call_command
from django.test import override_settings
from django.utils import timezone

from planner.models import ApiToken, AuditEvent, KeptAnswer, Plan, PlanBuild, TyreAlarm
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from planner.services.plans import plan_publish
from planner.services.retention import Retention, retention_apply
from planner.tasks import apply_retention
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine with one tyre, whose workers take nothing up."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    mine.order("T-1")
    return mine


def draft(mine: Mine) -> Plan:
    build = plan_build_start(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=1), seconds=1)
    plan = plan_build_run(build_id=build.pk)
    assert plan is not None
    return plan


def test_old_drafts_go_and_published_plans_stay(mine: Mine) -> None:
    published = plan_publish(user=mine.supervisor, plan=draft(mine), expected_number=None)
    old = draft(mine)
    Plan.objects.update(made_at=timezone.now() - timedelta(days=91))
    PlanBuild.objects.update(requested_at=timezone.now() - timedelta(days=366))
    events = AuditEvent.objects.count()
    told = retention_apply(keep=Retention())
    assert (told["drafts"], told["builds"]) == (1, 1)
    assert list(Plan.objects.all()) == [published]
    assert not PlanBuild.objects.filter(pk=old.build_id).exists()
    assert AuditEvent.objects.count() == events
    assert set(retention_apply(keep=Retention()).values()) == {0}


def test_a_draft_within_its_time_stays(mine: Mine) -> None:
    draft(mine)
    Plan.objects.update(made_at=timezone.now() - timedelta(days=91))
    with override_settings(RETENTION={"drafts": 100}):
        apply_retention()
    assert Plan.objects.count() == 1


def test_passing_rows_go_by_command(mine: Mine) -> None:
    long_ago = timezone.now() - timedelta(days=800)
    KeptAnswer.objects.create(user=mine.supervisor, key="k", request_sha256="0" * 64, made_at=long_ago)
    ApiToken.objects.create(
        site=mine.site, user=mine.supervisor, name="old", secret_sha256="0" * 64, actions=[],
        made_at=long_ago, expires_at=long_ago + timedelta(days=1),
    )  # fmt: skip
    damage = mine.damage(mine.order("T-2").tyre)
    TyreAlarm.objects.create(site=mine.site, damage=damage, began_at=long_ago, ended_at=long_ago)
    TyreAlarm.objects.create(site=mine.site, damage=damage, began_at=long_ago)
    out = io.StringIO()
    call_command("retention_apply", stdout=out)
    assert "tokens: 1 removed" in out.getvalue()
    assert "alarms: 1 removed" in out.getvalue()
    assert not KeptAnswer.objects.exists()
    assert TyreAlarm.objects.get().ended_at is None


def test_the_clock_asks_for_it_each_night() -> None:
    assert "planner.tasks.apply_retention" in {row["task"] for row in settings.CELERY_BEAT_SCHEDULE.values()}
