"""A write is refused in one order: 401, 403, 404, then 428 and 412, and what the body says last: 422.

Every write of the schema is tried on rows that are there, found through the lists, so that a new one is
covered without being named.
"""

import pytest

from planner.domain.permissions import PERMISSIONS
from planner.models import AuditEvent
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from tests.lib.api import Caller, caller, told
from tests.lib.api_schema import VALUES, Operation, operations
from tests.lib.mine import Mine, at

pytestmark = pytest.mark.django_db(transaction=True)
WRITES = tuple(each for each in operations() if each.method != "GET" and "site" in each.parameters("path"))
CHANGES = tuple(each for each in WRITES if "If-Match" in each.parameters("header"))
# A body that no operation takes: none is a list.
WRONG = [1]


@pytest.fixture
def mine(mine: Mine, monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A row of most kinds."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine.order("T-1")
    build = plan_build_start(user=mine.supervisor, site=mine.site, start=at(6), end=at(18), seconds=1)
    plan_build_run(build_id=build.pk)
    return mine


def whoever_may(mine: Mine, operation: Operation) -> Caller:
    roles = PERMISSIONS[operation.view.actions[operation.method]]
    return caller(mine.users[next(role for role in mine.users if role in roles)])


def path_of(operation: Operation, reader: Caller) -> str:
    """Its address with the first row of each list above it; the number 1 where there is none."""
    path = operation.template.replace("{site}", "ridge")
    while "{" in path:
        head, _, tail = path.partition("{")
        name, _, rest = tail.partition("}")
        answer = reader.get(head)
        rows = told(answer).get("results", ()) if answer.status_code == 200 else ()
        key = rows[0].get(name, rows[0].get("id", 1)) if rows else VALUES.get(name, 1)
        path = f"{head}{key}{rest}"
    return path


def test_every_change_is_refused_in_one_order(mine: Mine) -> None:
    wrong: dict[str, list[int]] = {}
    found = 0
    events = AuditEvent.objects.count()
    for each in CHANGES:
        who = whoever_may(mine, each)
        path = path_of(each, who)
        unread = who.send(each.method, path, WRONG).status_code
        stale = who.send(each.method, path, WRONG, if_match='"stale"').status_code
        bad = (
            who.send(each.method, path, WRONG, if_match="*").status_code
            if "requestBody" in each.told
            else 422
        )
        if (unread, stale) == (404, 404):
            continue
        found += 1
        if (unread, stale, bad) != (428, 412, 422):
            wrong[each.id] = (unread, stale, bad)
    assert wrong == {}
    assert found > 35
    assert AuditEvent.objects.count() == events


def test_what_is_not_there_is_told_before_what_the_body_lacks(mine: Mine) -> None:
    numbered = [each for each in WRITES if set(each.parameters("path")) - {"site", "month"}]
    wrong: dict[tuple[str, ...], int] = {}
    for each in numbered:
        path = each.template.replace("{site}", "ridge")
        for name in each.parameters("path"):
            path = path.replace(f"{{{name}}}", "999999999")
        for headers in ({}, {"if_match": '"stale"'}, {"if_match": "*"}):
            status = whoever_may(mine, each).send(each.method, path, WRONG, **headers).status_code
            if status != 404:
                wrong[each.id, *headers.values()] = status
    assert wrong == {}
