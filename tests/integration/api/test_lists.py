"""Lists: pages, searches, and the same number of queries for three rows as for one."""

from collections.abc import Callable

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from planner.models import PlanBuild, Technician
from planner.services.stage_runs import stage_run_start
from tests.lib.api import Caller, told
from tests.lib.mine import DAY, Mine, at, mine_open


def _people(mine: Mine) -> list[Technician]:
    return list(Technician.objects.filter(site=mine.site, code__startswith="T"))


def _tyre(mine: Mine, number: int) -> None:
    order = mine.order(f"T-{number}")
    mine.damage(order.tyre)


def _build(mine: Mine, number: int) -> None:
    PlanBuild.objects.create(
        site=mine.site, requested_by=mine.supervisor, requested_at=at(6, number), horizon_start=at(6),
        horizon_end=at(7), state="cancelled",
    )  # fmt: skip


def _run(mine: Mine, number: int) -> None:
    damage = mine.order(f"T-{number}").damages.get()
    place = mine.add("position", code=f"P-{number}", name="P", kinds=list(mine.position("P1").kinds.all()))
    people = _people(mine)[:1]
    stage_run_start(
        user=mine.supervisor, damage=damage, stage_name="Skive", technicians=people, position=place
    )


def _skilled(mine: Mine, number: int) -> None:
    mine.add("technician", code=f"N-{number}", name="N", skills=list(_people(mine)[0].skills.all()))


def _set(mine: Mine, number: int) -> None:
    mine.heater_set(f"H-{number}")


MAKERS: dict[str, Callable[[Mine, int], None]] = {
    "tyres/": _tyre,
    "work-orders/": _tyre,
    "audit-events/": _tyre,
    "plan-builds/": _build,
    "stage-runs/": _run,
    "technicians/": _skilled,
    "heater-sets/": _set,
    "heater-set-parts/": _set,
    "heater-set-fits/": _set,
    "roster-exceptions/": lambda mine, number: mine.add(
        "rosterexception", technician=_people(mine)[0], day=DAY.replace(day=number), reason="leave"
    ) and None,
}  # fmt: skip


@pytest.mark.parametrize("path", MAKERS)
def test_three_rows_cost_no_more_queries_than_one(mine: Mine, supervisor: Caller, path: str) -> None:
    counts = []
    for numbers in ((1,), (2, 3)):
        for number in numbers:
            MAKERS[path](mine, number)
        with CaptureQueriesContext(connection) as queries:
            answer = supervisor.get(f"sites/ridge/{path}")
        assert told(answer)["count"] >= len(numbers)
        counts.append(len(queries))
    assert counts[0] == counts[1]


def test_a_list_comes_in_pages(mine: Mine, supervisor: Caller) -> None:
    for number in (1, 2, 3):
        mine.order(f"T-{number}")
    first = told(supervisor.get("sites/ridge/tyres/?page_size=2"))
    assert (first["count"], [tyre["serial"] for tyre in first["results"]]) == (3, ["T-1", "T-2"])
    second = told(supervisor.get(first["next"].removeprefix("http://testserver")))
    assert ([tyre["serial"] for tyre in second["results"]], second["next"]) == (["T-3"], None)


def test_orders_are_found_by_state_and_words(mine: Mine, supervisor: Caller) -> None:
    for number in (1, 2):
        mine.order(f"T-{number}")
    found = told(supervisor.get("sites/ridge/work-orders/?state=to_repair&search=T-2"))["results"]
    assert [order["code"] for order in found] == ["WO-0002"]
    assert told(supervisor.get("sites/ridge/work-orders/?state=repaired&state=rejected"))["count"] == 0


def test_rows_of_another_site_are_neither_listed_nor_named(mine: Mine, administrator: Caller) -> None:
    skill = mine_open("valley").add("skill", code="weld", name="weld")
    assert "weld" not in {each["code"] for each in told(administrator.get("sites/ridge/skills/"))["results"]}
    assert administrator.get(f"sites/ridge/skills/{skill.pk}/").status_code == 404
    named = {"code": "N", "name": "N", "skills": [skill.pk]}
    refused = administrator.post("sites/ridge/technicians/", named)
    assert (refused.status_code, told(refused)["faults"][0]["place"]) == (422, "skills")


@pytest.mark.parametrize("size", ["0", "-1", "201", "x", "", "null", "1.0", "٣", "9" * 5000])
def test_a_page_size_that_is_none_is_told(mine: Mine, supervisor: Caller, size: str) -> None:
    refused = supervisor.get(f"sites/ridge/tyres/?page_size={size}")
    assert (refused.status_code, told(refused)["faults"][0]["place"]) == (422, "page_size")
    assert supervisor.get("sites/ridge/tyres/?page_size=200").status_code == 200


@pytest.mark.parametrize("page", ["0", "-1", "x", "last", "", "٣"])
def test_a_page_that_is_no_number_is_told(mine: Mine, supervisor: Caller, page: str) -> None:
    refused = supervisor.get(f"sites/ridge/tyres/?page={page}")
    assert (refused.status_code, told(refused)["faults"][0]["place"]) == (422, "page")


@pytest.mark.parametrize("page", ["2", "9" * 5000])
def test_there_is_no_page_past_the_last(mine: Mine, supervisor: Caller, page: str) -> None:
    assert supervisor.get(f"sites/ridge/tyres/?page={page}").status_code == 404
