"""Figures of the fleet over the API: a machine's meter, and what is assumed of a size."""

from datetime import timedelta

from django.utils import timezone

from planner.models import MachineReading, RemovalAssumption
from tests.lib.api import Caller, caller, told
from tests.lib.fleet import machine_add
from tests.lib.mine import Mine

ASSUMED = {"size_as_written": "27.00 R 49", "hours": 4200, "reason": "the mine's tyre book"}


def test_a_meter_reading_is_kept_once_and_moves_the_machine(mine: Mine, supervisor: Caller) -> None:
    machine = machine_add(mine, "H1", hours_run=1000)
    path = f"sites/ridge/machines/{machine.pk}/meter-readings/"
    earlier = timezone.now() - timedelta(days=2)
    first = supervisor.post(path, {"hours": 1010, "read_at": earlier})
    assert first.status_code == 201, told(first)
    for _ in range(2):
        kept = supervisor.post(path, {"hours": 1040}, idempotency_key="meter-1")
        assert (kept.status_code, told(kept)["hours"]) == (201, 1040)
    machine.refresh_from_db()
    assert (machine.hours_run, MachineReading.objects.count()) == (1040, 2)
    assert [row["hours"] for row in told(supervisor.get(path))["results"]] == [1040, 1010]
    back = supervisor.post(path, {"hours": 1039})
    assert (back.status_code, "it can't say 1039 h later" in told(back)["detail"]) == (422, True)
    assert supervisor.post("sites/ridge/machines/999/meter-readings/", {"hours": 1}).status_code == 404


def test_an_assumption_is_made_once_and_changed_as_it_was_read(mine: Mine, supervisor: Caller) -> None:
    made = supervisor.post("sites/ridge/removal-assumptions/", ASSUMED)
    assert (made.status_code, told(made)["size"], told(made)["hours"]) == (201, "27.00R49", 4200)
    again = supervisor.post("sites/ridge/removal-assumptions/", ASSUMED)
    assert (again.status_code, "4200 h for 27.00R49 is assumed already" in told(again)["detail"]) == (
        409, True,
    )  # fmt: skip
    path = f"sites/ridge/removal-assumptions/{told(made)['id']}/"
    change = {"hours": 5000, "reason": "a year of our own"}
    assert supervisor.patch(path, change).status_code == 428
    changed = supervisor.patch(path, change, if_match=supervisor.get(path)["ETag"])
    assert (changed.status_code, told(changed)["hours"]) == (200, 5000)
    assert supervisor.patch(path, {**change, "hours": 1000}, if_match=made["ETag"]).status_code == 412
    assert RemovalAssumption.objects.get().hours == 5000
    no_reason = supervisor.patch(path, {"hours": 5000, "reason": " "}, if_match=changed["ETag"])
    assert no_reason.status_code == 422


def test_a_technician_assumes_nothing(mine: Mine) -> None:
    technician = caller(mine.users["technician"])
    assert technician.post("sites/ridge/removal-assumptions/", ASSUMED).status_code == 403
    assert told(technician.get("sites/ridge/removal-assumptions/"))["results"] == []
