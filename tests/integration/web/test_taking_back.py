"""A tap that was a slip is taken back: by whom, for how long, what holds it, and what stays on record."""

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client

from planner.domain.errors import ChangedMeanwhileError, ConflictError, InvalidValueError, NotAllowedError
from planner.domain.plan import PlannedJob
from planner.domain.taking_back import StageTap
from planner.models import (
    AuditEvent,
    CostRepair,
    CureReading,
    Damage,
    Plan,
    StageRun,
    TapTakenBack,
    Technician,
    TyreWatch,
    WorkOrder,
)
from planner.selectors.floor_work import hot_tyre_list
from planner.selectors.plans import plan_content_get
from planner.selectors.repair_records.content import record_content
from planner.services.audit import audit_chain_faults
from planner.services.floor_reports import Tap, stage_begin, stage_end
from planner.services.inspections import inspection_record
from planner.services.taking_back import stage_tap_take_back
from tests.lib.mine import Mine, at, mine_equipped
from tests.lib.plans import plan_published

pytestmark = pytest.mark.django_db
START, END = StageTap.START, StageTap.END


class Floor:
    """A tyre's planned stages, begun and ended one after another at a time that the test sets."""

    def __init__(self, mine: Mine, clock: list[Any]) -> None:
        mine.order("A1")
        self.mine, self.clock = mine, clock
        self.plan: Plan = plan_published(mine, at(6), at(18, days=2))
        self.job: PlannedJob = plan_content_get(plan=self.plan).plan.schedule.jobs[0]
        self.damage = Damage.objects.get()

    def begin(self, place: int, role: str = "technician") -> StageRun:
        tap = Tap(job=self.job.id, stage=self.job.stages[place], at=self.clock[0])
        return stage_begin(user=self.mine.users[role], site=self.mine.site, tap=tap)

    def end(self, place: int, role: str = "technician") -> StageRun:
        tap = Tap(job=self.job.id, stage=self.job.stages[place], at=self.clock[0])
        return stage_end(user=self.mine.users[role], site=self.mine.site, tap=tap)

    def through(self, place: int) -> StageRun:
        """Every stage up to and with `place` is over."""
        for each in range(place + 1):
            self.begin(each)
            run = self.end(each)
        return run

    def take_back(self, run: StageRun, tap: StageTap, role: str = "technician", **told: Any) -> TapTakenBack:
        return stage_tap_take_back(user=self.mine.users[role], run=run, tap=tap, **told)

    def order(self) -> WorkOrder:
        return WorkOrder.objects.get()


@pytest.fixture
def floor(monkeypatch: pytest.MonkeyPatch) -> Floor:
    """A mine at 09:00 on its Monday with one planned tyre, and a broker that takes nothing."""
    clock = [at(9)]
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    monkeypatch.setattr("django.utils.timezone.now", lambda: clock[0])
    found = Floor(mine_equipped(), clock)
    clock[0] = at(9, 30)
    return found


def test_a_first_start_gives_the_order_back_and_leaves_its_trace(floor: Floor) -> None:
    run = floor.begin(0)
    assert floor.order().state == "in_hand"
    row = floor.take_back(run, START)
    assert (row.tap, row.stage, row.tapped_by, row.taken_back_by) == (
        "start", "Skive", floor.mine.users["technician"], floor.mine.users["technician"],
    )  # fmt: skip
    assert not StageRun.objects.exists()
    assert floor.order().state == "to_repair"
    told = list(AuditEvent.objects.order_by("sequence").values_list("action", flat=True))[-3:]
    assert told == ["stage_tap_take_back", "stage_run_take_back", "work_order_take_back_start"]
    assert audit_chain_faults(site=floor.mine.site) == ()
    # It may now really begin.
    assert floor.begin(0).state == "running"


def test_an_end_goes_on_from_its_own_start(floor: Floor) -> None:
    begun = floor.begin(0)
    floor.clock[0] = at(9, 50)
    row = floor.take_back(floor.end(0), END)
    run = StageRun.objects.get()
    assert (run.pk, run.state, run.ended_at, run.started_at) == (begun.pk, "running", None, at(9, 30))
    assert row.tapped_at == at(9, 50)


def test_the_last_end_of_all_opens_the_order_again(floor: Floor) -> None:
    run = floor.through(5)
    assert floor.order().state == "repaired"
    floor.take_back(run, END)
    assert (floor.order().state, floor.order().closed_at) == ("in_hand", None)
    # Its set is not stripped after all: somebody has to attend the tyre again.
    assert [each.damage for each in hot_tyre_list(user=floor.mine.supervisor, site=floor.mine.site)] == [
        floor.damage.pk
    ]


def test_only_the_last_tap_of_a_tyre(floor: Floor) -> None:
    first = floor.through(0)
    floor.begin(1)
    with pytest.raises(ConflictError, match="not the last"):
        floor.take_back(first, END, "supervisor")
    second = floor.end(1)
    with pytest.raises(ConflictError, match="not the last"):
        floor.take_back(second, START, "supervisor")


def test_what_changed_meanwhile_is_not_taken_back_unseen(floor: Floor) -> None:
    seen = StageRun.objects.get(pk=floor.begin(0).pk)
    floor.end(0)
    with pytest.raises(ChangedMeanwhileError):
        floor.take_back(seen, END)


def test_whose_tap_it_was_and_how_long_ago(floor: Floor) -> None:
    theirs = floor.begin(0, "supervisor")
    with pytest.raises(NotAllowedError, match="supervisor-ridge tapped it: they or a supervisor"):
        floor.take_back(theirs, START)
    with pytest.raises(NotAllowedError):
        floor.take_back(theirs, START, "planner")
    floor.take_back(theirs, START, "supervisor")
    own = floor.begin(0)
    floor.clock[0] = at(10, 1)
    with pytest.raises(NotAllowedError, match="more than 30 min ago"):
        floor.take_back(own, START)
    # Tapped in time on a tablet without network, heard of late.
    floor.take_back(own, START, at=at(10))


def test_a_plan_that_counts_on_it_wants_a_supervisor(floor: Floor) -> None:
    run = floor.begin(0)
    Plan.objects.filter(state="published").update(published_at=at(9, 31))
    with pytest.raises(NotAllowedError, match="plan again"):
        floor.take_back(run, START)
    floor.take_back(run, START, "supervisor")


def test_a_start_on_a_set_wants_somebody_who_looked(floor: Floor) -> None:
    floor.through(2)
    heat_up = floor.begin(3)
    Technician.objects.filter(code="T1").update(user=floor.mine.users["technician"])
    TyreWatch.objects.create(
        site=floor.mine.site, damage=floor.damage, technician=Technician.objects.get(code="T1"),
        signed_on_at=at(9, 30),
    )  # fmt: skip
    with pytest.raises(InvalidValueError, match="set is off and empty"):
        floor.take_back(heat_up, START)
    row = floor.take_back(heat_up, START, set_is_safe=True)
    assert row.set_is_safe
    assert hot_tyre_list(user=floor.mine.supervisor, site=floor.mine.site) == []
    assert TyreWatch.objects.get().signed_off_at == at(9, 30)


def test_the_place_that_another_tyre_took_meanwhile(floor: Floor) -> None:
    run = floor.through(0)
    floor.mine.order("A2")
    other = Damage.objects.get(tyre__serial="A2")
    StageRun.objects.create(
        site=floor.mine.site, work_order=WorkOrder.objects.get(number=2), damage=other, sequence=1,
        name="Skive", position=run.position, started_at=at(9, 30),
    )  # fmt: skip
    with pytest.raises(ConflictError, match="in use"):
        floor.take_back(run, END)
    assert not TapTakenBack.objects.exists()


def test_what_was_booked_stays(floor: Floor) -> None:
    run = floor.through(5)
    CostRepair.objects.update_or_create(
        work_order=run.work_order, defaults={"site": floor.mine.site, "month": at(9).date().replace(day=1)}
    )
    with pytest.raises(ConflictError, match="its cost is booked"):
        floor.take_back(run, END, "supervisor")


def test_what_was_inspected_stays(floor: Floor) -> None:
    run = floor.through(5)
    inspection_record(user=floor.mine.supervisor, work_order=run.work_order, released=True, found="sound")
    with pytest.raises(ConflictError, match="was inspected"):
        floor.take_back(run, END, "supervisor")


def test_a_start_at_which_somebody_read_the_gauges_stays(floor: Floor) -> None:
    floor.through(2)
    heat_up = floor.begin(3)
    CureReading.objects.create(
        site=floor.mine.site, damage=floor.damage, stage_run=heat_up, taken_at=at(9, 30), inside_c=30,
        as_typed="30 °C", recorded_at=at(9, 30), recorded_by=floor.mine.supervisor,
    )  # fmt: skip
    with pytest.raises(ConflictError, match="still need it"):
        floor.take_back(heat_up, START, set_is_safe=True)
    assert StageRun.objects.filter(pk=heat_up.pk).exists()


def test_the_record_tells_of_it(floor: Floor) -> None:
    assert "taken_back" not in record_content(order=floor.order())
    floor.take_back(floor.begin(0), START, why="wrong card")
    (told,) = record_content(order=floor.order())["taken_back"]
    assert (told["stage"], told["tap"], told["why"]) == ("Skive", "start", "wrong card")


def tapped(floor: Floor, key: str, role: str = "technician", **told: str) -> tuple[int, str]:
    client = Client()
    client.force_login(floor.mine.users[role])
    answer = client.post(
        f"/at/{floor.mine.site.code}/floor/tap/",
        {"at": str(int(floor.clock[0].timestamp() * 1000)), "damage": str(floor.damage.pk), **told},
        headers={"Idempotency-Key": key},
    )
    return answer.status_code, answer.json()["words"]


def page(floor: Floor, role: str = "technician") -> str:
    client = Client()
    client.force_login(floor.mine.users[role])
    return client.get(f"/at/{floor.mine.site.code}/floor/").content.decode()


def test_the_page_offers_it_and_the_same_tap_twice_counts_once(floor: Floor) -> None:
    floor.begin(0)
    assert "data-undoes" in page(floor)
    assert page(floor).count('data-tap="start"') == 1
    told = {"action": "take-back", "tap": "start", "stage": "Skive"}
    for _ in range(2):
        assert tapped(floor, "k1", **told) == (200, "Taken back: Skive of WO-0001 has not begun.")
    assert tapped(floor, "k2", **told)[0] == 409
    assert tapped(floor, "k3", **{**told, "tap": "?"})[0] == 409
    assert TapTakenBack.objects.count() == 1


def test_a_tyre_that_is_done_can_be_taken_up_again_from_the_page(floor: Floor) -> None:
    floor.through(5)
    assert "Strip goes on after all" in page(floor)
    assert "Strip goes on after all" in page(floor, "supervisor")
    told = {"action": "take-back", "tap": "end", "stage": "Strip"}
    assert tapped(floor, "k1", **told) == (200, "Taken back: Strip of WO-0001 goes on.")
    floor.clock[0] += timedelta(minutes=31)
    floor.end(5)
    floor.clock[0] += timedelta(minutes=31)
    assert "Strip goes on after all" not in page(floor)
    assert "Strip goes on after all" in page(floor, "supervisor")
