"""The bay over the API: shifts put on the calendar, and parts taken out and put back."""

from planner.models import HeaterSetPart, Shift
from tests.lib.api import Caller, caller, told
from tests.lib.mine import Mine


def test_the_roster_is_put_on_the_calendar_once(mine: Mine, supervisor: Caller) -> None:
    # Two technicians on two days that the mine's roster did not reach: four shifts.
    days = {"first_day": "2026-04-01", "last_day": "2026-04-02"}
    made = supervisor.post("sites/ridge/shifts/", days, idempotency_key="april")
    assert (made.status_code, told(made)) == (201, {"shifts": 4})
    supervisor.post("sites/ridge/shifts/", days)
    assert Shift.objects.filter(day__gte="2026-04-01").count() == 4
    found = told(supervisor.get("sites/ridge/shifts/?start=2026-04-01T00:00Z&end=2026-04-01T12:00Z"))
    # Perth is 8 h ahead: 06:00 to 18:00 on its first of April ends at 10:00 UTC.
    assert {shift["starts_at"] for shift in found["results"]} == {"2026-03-31T22:00:00Z"}
    assert [len(shift["breaks"]) for shift in found["results"]] == [1, 1]


def test_more_than_a_year_of_shifts_is_refused(supervisor: Caller) -> None:
    for last_day in ("2027-04-02", "2026-03-31"):
        days = {"first_day": "2026-04-01", "last_day": last_day}
        assert supervisor.post("sites/ridge/shifts/", days).status_code == 422


def test_a_part_is_taken_out_and_put_back(mine: Mine) -> None:
    technician = caller(mine.users["technician"])
    part = HeaterSetPart.objects.first()
    assert part is not None
    path = f"sites/ridge/heater-set-parts/{part.pk}/"
    tag = technician.get(path)["ETag"]
    out = technician.post(f"{path}moves/", {"move": "take_out", "why": "a cut cable"}, if_match=tag)
    assert (told(out)["state"], told(out)["note"]) == ("out", "a cut cable")
    back = {"move": "put_back", "why": "new cable", "inspection_due_on": "2027-01-01"}
    assert technician.post(f"{path}moves/", back, if_match=tag).status_code == 412
    mended = technician.post(f"{path}moves/", back, if_match=out["ETag"])
    assert (told(mended)["state"], told(mended)["inspection_due_on"]) == ("fit", "2027-01-01")
    assert mended["ETag"] == technician.get(path)["ETag"]
