"""No update is lost (RFC 9110, 13.1.1 If-Match and 13.1.2 If-None-Match; 428 is RFC 6585, section 3)."""

from planner.models import Position, WorkOrder
from tests.lib.api import Caller, told
from tests.lib.mine import Mine, at

CHANGE = {"needed_by": at(6, days=4), "priority": 50, "why": "the mine asks"}


def test_a_change_needs_what_it_was_decided_on(mine: Mine, supervisor: Caller) -> None:
    mine.order("T-1")
    path = "sites/ridge/work-orders/1/"
    refused = supervisor.patch(path, CHANGE)
    assert (refused.status_code, told(refused)["code"]) == (428, "if_match_required")
    assert WorkOrder.objects.get(number=1).priority == 10


def test_the_second_of_two_changes_is_refused(mine: Mine, supervisor: Caller) -> None:
    mine.order("T-1")
    path = "sites/ridge/work-orders/1/"
    tag = supervisor.get(path)["ETag"]
    first = supervisor.patch(path, CHANGE, if_match=tag)
    assert first.status_code == 200, first.content
    late = supervisor.patch(path, {**CHANGE, "priority": 60}, if_match=tag)
    assert (late.status_code, told(late)["code"]) == (412, "changed_meanwhile")
    assert WorkOrder.objects.get(number=1).priority == 50
    again = supervisor.patch(path, {**CHANGE, "priority": 60}, if_match=first["ETag"])
    assert told(again)["priority"] == 60


def test_a_weak_tag_never_matches_a_change(mine: Mine, supervisor: Caller) -> None:
    # RFC 9110, 13.1.1: If-Match compares strongly.
    mine.order("T-1")
    path = "sites/ridge/work-orders/1/"
    tag = supervisor.get(path)["ETag"]
    assert supervisor.patch(path, CHANGE, if_match=f"W/{tag}").status_code == 412
    assert supervisor.patch(path, CHANGE, if_match=f'"other", {tag}').status_code == 200
    assert supervisor.patch(path, CHANGE, if_match="*").status_code == 200


def test_what_the_caller_holds_is_not_sent_again(mine: Mine, supervisor: Caller) -> None:
    mine.order("T-1")
    path = "sites/ridge/work-orders/1/"
    tag = supervisor.get(path)["ETag"]
    known = supervisor.get(path, if_none_match=f'"x", W/{tag}')
    assert (known.status_code, known.content, known["ETag"]) == (304, b"", tag)
    assert supervisor.get(path, if_none_match='"x"').status_code == 200


def test_a_kept_row_is_changed_and_removed_only_as_it_was_read(mine: Mine, administrator: Caller) -> None:
    path = f"sites/ridge/positions/{mine.position('C1').pk}/"
    tag = administrator.get(path)["ETag"]
    changed = administrator.patch(path, {"name": "Cure one"}, if_match=tag)
    assert told(changed)["name"] == "Cure one"
    assert administrator.send("DELETE", path, None, if_match=tag).status_code == 412
    assert administrator.send("DELETE", path, None).status_code == 428
    assert administrator.send("DELETE", path, None, if_match=changed["ETag"]).status_code == 204
    assert not Position.objects.filter(code="C1").exists()
