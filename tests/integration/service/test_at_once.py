"""Two people at the same moment: one wins, the other is told by name, and nothing is lost.

On SQLite as it stands; on PostgreSQL with TYREWRIGHT_TEST_POSTGRES, where writes really overlap.
"""

from functools import partial
from typing import Any

import pytest
from django.core.cache import cache

from planner.domain.errors import ConflictError, NotFoundError, UserError
from planner.domain.states import WrongStateError
from planner.models import HeaterSetPart, Plan, PlanBuild, StageRun, Technician, Tyre, WorkOrder
from planner.scheduling.verify import verify
from planner.selectors.plans import plan_content_get
from planner.services.audit import audit_chain_faults
from planner.services.nouns import noun_change, noun_remove
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from planner.services.plan_edit import plan_leave_out
from planner.services.plans import plan_drop, plan_publish
from planner.services.rows import row_change, row_remove
from planner.services.stage_runs import stage_run_start
from tests.lib.api import caller
from tests.lib.at_once import at_once
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine with two tyres to repair, a second supervisor, and a queue that takes nothing."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    cache.clear()
    mine = mine_equipped()
    mine.order("A1")
    mine.order("A2")
    return mine


def start(mine: Mine) -> PlanBuild:
    return plan_build_start(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=1), seconds=1)


def draft(mine: Mine) -> Plan:
    plan = plan_build_run(build_id=start(mine).pk)
    assert plan is not None
    return plan


def whole(mine: Mine) -> bool:
    contents = [plan_content_get(plan=plan) for plan in Plan.objects.all()]
    broken = [verify(content.problem, content.plan) for content in contents]
    return audit_chain_faults(site=mine.site) == () and not any(broken)


def test_one_of_two_builds_is_begun(mine: Mine) -> None:
    outcomes = at_once([lambda: start(mine)] * 4)
    refused = [each for each in outcomes if isinstance(each, ConflictError)]
    assert len(refused) == 3
    assert "supervisor-ridge has a plan in the making" in str(refused[0])
    assert PlanBuild.objects.count() == 1


def test_a_draft_is_published_or_dropped_and_never_both(mine: Mine) -> None:
    for number in (None, 1):
        plan = draft(mine)
        outcomes = at_once(
            [
                lambda: plan_publish(user=mine.supervisor, plan=plan, expected_number=number),  # noqa: B023
                lambda: plan_drop(user=mine.supervisor, plan=plan),  # noqa: B023
            ]
        )
        plan.refresh_from_db()
        refused = [each for each in outcomes if isinstance(each, Exception)]
        assert [type(each) for each in refused] == [WrongStateError], outcomes
        assert plan.state == ("dropped" if refused[0] is outcomes[0] else "published")
        if plan.state == "dropped":
            break
    assert whole(mine)


def test_a_draft_is_published_while_somebody_changes_it(mine: Mine) -> None:
    plan = draft(mine)
    job = plan_content_get(plan=plan).plan.schedule.jobs[0].id
    published, changed = at_once(
        [
            lambda: plan_publish(user=mine.supervisor, plan=plan, expected_number=None),
            lambda: plan_leave_out(user=mine.supervisor, draft=plan, job=job),
        ]
    )
    assert isinstance(published, Plan)
    assert isinstance(changed, Plan | ConflictError | WrongStateError), changed
    assert plan_content_get(plan=Plan.objects.get(state="published")).plan.schedule.jobs[0].id == job
    assert whole(mine)


def test_two_tyres_do_not_take_one_place_at_the_same_moment(mine: Mine) -> None:
    place, people = mine.position("P1"), list(Technician.objects.filter(site=mine.site)[:1])
    damages = [order.damages.get() for order in WorkOrder.objects.order_by("number")]
    outcomes = at_once(
        [
            lambda damage=damage: stage_run_start(  # type: ignore[misc]
                user=mine.supervisor, damage=damage, stage_name="Skive", technicians=people, position=place
            )
            for damage in damages
        ]
    )
    refused = [each for each in outcomes if isinstance(each, ConflictError)]
    assert len(refused) == 1, outcomes
    assert "is in use by WO-" in str(refused[0])
    assert StageRun.objects.count() == 1
    assert whole(mine)


def test_one_key_sent_by_eight_clients_makes_one_thing(mine: Mine) -> None:
    told = {"serial": "N-1", "size_as_written": "27.00 R 49"}
    clients = [caller(mine.supervisor) for _ in range(8)]
    answers: list[Any] = at_once(
        [
            lambda who=who: who.post("sites/ridge/tyres/", told, idempotency_key="k-1")  # type: ignore[misc]
            for who in clients
        ]
    )
    assert [answer.status_code for answer in answers] == [201] * 8
    assert len({answer.content for answer in answers}) == 1
    assert sorted(answer.get("Idempotency-Replayed", "") for answer in answers) == ["", *["true"] * 7]
    assert Tyre.objects.filter(serial="N-1").count() == 1


def test_of_six_changes_of_one_reading_one_is_taken(mine: Mine) -> None:
    clients = [caller(mine.supervisor) for _ in range(6)]
    tag = clients[0].get("sites/ridge/work-orders/1/")["ETag"]
    answers: list[Any] = at_once(
        [
            lambda who=who, weight=weight: who.patch(  # type: ignore[misc]
                "sites/ridge/work-orders/1/",
                {"needed_by": at(6, days=4), "priority": weight, "why": "x"},
                if_match=tag,
            )
            for weight, who in enumerate(clients, 20)
        ]
    )
    statuses = [answer.status_code for answer in answers]
    assert sorted(statuses) == [200, *[412] * 5]
    assert WorkOrder.objects.get(number=1).priority == 20 + statuses.index(200)


def test_a_set_is_removed_while_its_parts_change(mine: Mine) -> None:
    """Each locks its row before the site's, so that neither waits for the other for ever."""
    administrator = {"user": mine.users["administrator"], "site": mine.site}
    for number in range(6):
        row = mine.heater_set(f"N{number}")
        part = HeaterSetPart.objects.filter(heater_set=row).latest("pk")
        outcomes = at_once(
            [
                partial(noun_remove, **administrator, noun="heaterset", row_id=row.pk, why="sold"),
                partial(
                    noun_change, **administrator, noun="heatersetpart", row_id=part.pk, values={"note": "x"}
                ),
            ]
        )
        faults = [each for each in outcomes if isinstance(each, Exception)]
        assert not [each for each in faults if not isinstance(each, UserError)]
    assert whole(mine)


def test_what_somebody_else_removed_is_said_to_be_gone(mine: Mine) -> None:
    """Two had the same part before them; one removes it."""
    part = HeaterSetPart.objects.filter(heater_set=mine.heater_set("N1")).latest("pk")
    late, later = HeaterSetPart.objects.get(pk=part.pk), HeaterSetPart.objects.get(pk=part.pk)
    row_remove(user=mine.supervisor, site=mine.site, row=part, action="sold")
    with pytest.raises(NotFoundError, match="this heater set part was removed by somebody else"):
        row_change(user=mine.supervisor, site=mine.site, row=late, values={"note": "x"}, action="noted")
    with pytest.raises(NotFoundError, match="was removed by somebody else"):
        row_remove(user=mine.supervisor, site=mine.site, row=later, action="sold")
    assert not HeaterSetPart.objects.filter(pk=late.pk).exists()
    assert whole(mine)
