"""Every operation of the schema, tried by those who may not: a new one is covered without being named."""

from collections import Counter
from datetime import timedelta

import pytest
from django.utils import timezone
from openapi_spec_validator import OpenAPIV31SpecValidator

from planner.domain.permissions import PERMISSIONS, Action, Role
from planner.models import AuditEvent
from planner.services.api_tokens import api_token_make
from tests.lib.api import Caller, caller, told
from tests.lib.api_schema import Operation, api_schema, operations
from tests.lib.mine import Mine, mine_equipped, mine_open

OPERATIONS = tuple(operations())
ON_SITE = tuple(each for each in OPERATIONS if "site" in each.parameters("path"))
# Whoever belongs to the site may write these: own tokens, a check that stores nothing, and the end of an
# import or export among those that they see, which are of kinds that they may ask for.
EVERYBODYS_WRITES = {"token_make", "token_revoke", "problem_check", "plan_odds_ask", "file_task_cancel"}
# They add something to a thing that stands as it is.
ADDS_BELOW = {
    "damage_record", "spend_approve", "photo_add", "cure_log_upload", "cure_readings_upload", "material_take",
    "gauge_reading_add", "gauge_readings_judge", "machine_hours_record",
    "meter_record", "use_count", "inspection_record", "lever_ask", "plan_odds_ask", "watch_sign_on",
    "webhook_try",
}  # fmt: skip
# They store nothing, or stop what moves by itself.
FREE_OF_TAGS = {"problem_check", "import_preview", "plan_build_cancel", "lever_cancel", "file_task_cancel"}


def _answers(operations: tuple[Operation, ...], who: object, secret: str = "") -> dict[str, int]:
    """What each operation answers to somebody who sends no body and no precondition."""
    sender = caller(who, secret)  # type: ignore[arg-type]
    return {each.id: sender.send(each.method, each.path, None).status_code for each in operations}


def test_the_schema_is_valid_openapi() -> None:
    # An independent validator of OpenAPI 3.1.
    OpenAPIV31SpecValidator(api_schema()).validate()


def test_operations_have_names_of_their_own() -> None:
    assert [name for name, count in Counter(each.id for each in OPERATIONS).items() if count > 1] == []
    assert len(ON_SITE) > 100


@pytest.mark.parametrize("operation", ON_SITE, ids=lambda each: each.id)
def test_every_operation_says_what_it_needs(operation: Operation) -> None:
    assert operation.method in operation.view.actions, "an operation without an action is open to all"
    if operation.method != "GET" and operation.view.actions[operation.method] == Action.SITE_READ:
        assert operation.id in EVERYBODYS_WRITES


@pytest.mark.django_db
@pytest.mark.parametrize("method", ["GET", "POST", "PUT", "PATCH", "DELETE"])
def test_a_method_that_is_not_there_is_405_for_members_and_changes_nothing(mine: Mine, method: str) -> None:
    known = {(each.method, each.template) for each in OPERATIONS}
    lacking = {each.template: each for each in ON_SITE if (method, each.template) not in known}
    asked = caller(mine.users["administrator"])
    statuses = {name: asked.send(method, each.path, None).status_code for name, each in lacking.items()}
    assert {name: status for name, status in statuses.items() if status != 405} == {}


def test_nobody_signed_in_is_told_so(mine: Mine) -> None:
    assert set(_answers(OPERATIONS, None).values()) == {401}
    assert caller(None).send("HEAD", "sites/ridge/", None).status_code == 401
    assert caller(None).get("sites/ridge/")["WWW-Authenticate"].startswith("Bearer")


def test_a_stranger_finds_no_site(mine: Mine) -> None:
    stranger = mine_open("elsewhere").users["administrator"]
    assert {name: status for name, status in _answers(ON_SITE, stranger).items() if status != 404} == {}
    assert caller(stranger).send("HEAD", "sites/ridge/", None).status_code == 404
    assert told(caller(stranger).get("sites/"))["results"][0]["code"] == "elsewhere"


@pytest.mark.django_db
@pytest.mark.parametrize("role", (Role.ADMINISTRATOR, Role.SUPERVISOR))
def test_a_row_of_another_site_is_not_found(role: Role) -> None:
    """Whoever may do it at home meets no row of the neighbour's, whatever number they try."""
    mine_equipped().order("T-1")
    there = mine_open("elsewhere").users[role]
    numbered = [each for each in ON_SITE if set(each.parameters("path")) - {"site", "month"}]
    before, asked = AuditEvent.objects.count(), caller(there)
    answers = {}
    for each in numbered:
        if role in PERMISSIONS[each.view.actions[each.method]]:
            path = each.path.replace("/sites/ridge/", "/sites/elsewhere/")
            answers[each.id] = asked.send(each.method, path, {}, if_match="*").status_code
    assert len(answers) > 60
    assert {name: status for name, status in answers.items() if status != 404} == {}
    assert AuditEvent.objects.count() == before


@pytest.mark.parametrize("role", Role)
def test_a_role_may_do_what_the_table_says_and_nothing_else(mine: Mine, role: Role) -> None:
    answers = _answers(ON_SITE, mine.users[role])
    refused = {name for name, status in answers.items() if status == 403}
    actions = {each.id: each.view.actions[each.method] for each in ON_SITE}
    assert refused == {name for name, action in actions.items() if role not in PERMISSIONS[action]}
    assert [name for name, status in answers.items() if status in (401, 500)] == []


def test_a_token_may_do_less_than_its_user(mine: Mine) -> None:
    _, secret = api_token_make(
        user=mine.supervisor,
        site=mine.site,
        name="reader",
        actions=[Action.SITE_READ],
        expires_at=timezone.now() + timedelta(days=1),
    )
    answers = _answers(ON_SITE, None, secret)
    open_to_all = {each.id for each in ON_SITE if each.view.actions[each.method] == Action.SITE_READ}
    assert {name for name, status in answers.items() if status != 403} == open_to_all - {"token_make"}


@pytest.mark.parametrize("operation", ON_SITE, ids=lambda each: each.id)
def test_every_write_to_what_exists_takes_if_match(operation: Operation) -> None:
    """Writes below the number of a row; a cancel is exempt, for the progress it meets moves by itself."""
    tail = operation.template.partition("{site}")[2]
    adds_below = operation.id in ADDS_BELOW | FREE_OF_TAGS
    is_change = operation.method != "GET" and ("{" in tail or not tail.strip("/"))
    asks = "If-Match" in operation.parameters("header")
    assert asks == (is_change and not adds_below)
    assert asks or operation.method == "GET" or operation.id in FREE_OF_TAGS or (
        "Idempotency-Key" in operation.parameters("header")
    )  # fmt: skip


def test_a_head_is_a_get_without_its_body(mine: Mine, supervisor: Caller) -> None:
    head, got = supervisor.send("HEAD", "sites/ridge/", None), supervisor.get("sites/ridge/")
    assert (head.status_code, head.content, head["ETag"]) == (200, b"", got["ETag"])
