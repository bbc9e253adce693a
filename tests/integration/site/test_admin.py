"""The administrator's tables show their own site and leave audit events."""

import pytest
from django.contrib import admin
from django.test import Client
from django.urls import reverse

from planner.admin.base import SiteTable
from planner.models import AuditEvent, Skill
from tests.lib.mine import Mine, mine_equipped

pytestmark = pytest.mark.django_db
TABLES = sorted(
    str(model._meta.model_name)
    for model, table in admin.site._registry.items()
    if isinstance(table, SiteTable)
)


@pytest.fixture
def mine() -> Mine:
    mine = mine_equipped()
    mine.order("A1")
    mine.users["administrator"].is_staff = True
    mine.users["administrator"].save()
    return mine


def signed_in(mine: Mine, role: str) -> Client:
    client = Client()
    client.force_login(mine.users[role], backend="django.contrib.auth.backends.ModelBackend")
    return client


def test_every_table_opens(mine: Mine) -> None:
    client = signed_in(mine, "administrator")
    answers = {
        table: client.get(reverse(f"admin:planner_{table}_changelist")).status_code for table in TABLES
    }
    assert answers == dict.fromkeys(TABLES, 200)


def test_nobody_else_comes_in(mine: Mine) -> None:
    response = signed_in(mine, "supervisor").get(reverse("admin:planner_skill_changelist"))
    assert response.status_code == 302


def test_a_change_is_saved_and_told(mine: Mine) -> None:
    skill = Skill.objects.get(code="prep")
    url = reverse("admin:planner_skill_change", args=[skill.pk])
    values = {"site": mine.site.pk, "code": "prep", "name": "Preparation"}
    signed_in(mine, "administrator").post(url, values)
    skill.refresh_from_db()
    event = AuditEvent.objects.order_by("-sequence")[0]
    assert (skill.name, event.action, event.details["after"]) == (
        "Preparation",
        "skill_change",
        {"name": "Preparation"},
    )


def test_another_sites_row_is_not_there(mine: Mine) -> None:
    other = mine_equipped("other")
    skill = Skill.objects.get(site=other.site, code="prep")
    url = reverse("admin:planner_skill_change", args=[skill.pk])
    assert signed_in(mine, "administrator").get(url).status_code == 302
