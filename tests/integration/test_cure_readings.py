"""Readings typed one by one: units, sent twice, corrected beside what was wrong."""

from datetime import UTC, datetime, timedelta

import pytest
from django.utils import timezone

from planner.domain.cure_reading import GaugeReading
from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError
from planner.models import AuditEvent, CureReading, StageRun
from planner.selectors.cure_readings import cure_reading_get, cure_reading_list, reading_history_list
from planner.services.cure_readings import cure_reading_add, cure_reading_correct
from tests.integration.cure_site import CureSite

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 8, 3, 4, 0, tzinfo=UTC)
AT_HOLD = GaugeReading(inside=140, outside=139, pressure=207)


@pytest.fixture
def bay() -> CureSite:
    return CureSite()


def added(bay: CureSite, reading: GaugeReading = AT_HOLD, at: datetime = NOON) -> CureReading:
    return cure_reading_add(user=bay.technician, damage=bay.damage, reading=reading, taken_at=at)


@pytest.mark.parametrize(
    "reading",
    [
        GaugeReading(inside=284, outside=248, pressure=30, temperature_unit="°F", pressure_unit="psi"),
        GaugeReading(inside=140, outside=120, pressure=2.06842719, pressure_unit="bar"),
        GaugeReading(inside=140, outside=120, pressure=206.842719),
    ],
    ids=["°F and psi", "bar", "kPa"],
)
def test_every_unit_of_the_gauges_is_the_same_reading(bay: CureSite, reading: GaugeReading) -> None:
    """284 °F = 140 °C, 248 °F = 120 °C; 30 psi = 206.842719 kPa (NIST SP 811, from memory)."""
    row = added(bay, reading)
    assert (row.inside_c, row.outside_c) == (pytest.approx(140), pytest.approx(120))
    assert row.pressure_kpa == pytest.approx(206.842719)
    assert row.as_typed == str(reading)


def test_who_and_when_and_at_which_stage(bay: CureSite) -> None:
    run = StageRun.objects.create(
        site=bay.site, work_order=bay.order, damage=bay.damage, sequence=6, name="Cure",
        started_at=NOON - timedelta(minutes=10),
    )  # fmt: skip
    row = added(bay)
    assert (row.taken_at, row.recorded_by, row.stage_run) == (NOON, bay.technician, run)
    assert row.recorded_at > NOON
    assert AuditEvent.objects.filter(action="cure_reading_add").count() == 1


def test_a_reading_sent_twice_is_recorded_once(bay: CureSite) -> None:
    assert added(bay) == added(bay)
    assert CureReading.objects.count() == 1
    with pytest.raises(ConflictError, match="inside 140 °C, outside 139 °C, bags 207 kPa is on record"):
        added(bay, GaugeReading(inside=120, outside=139, pressure=207))


def test_a_clock_ahead_is_taken_as_now(bay: CureSite) -> None:
    assert added(bay, at=timezone.now() + timedelta(hours=1)).taken_at <= timezone.now()


@pytest.mark.parametrize(
    ("told", "message"),
    [
        ({"inside": 284}, "the inside pad, read as °C, must be from -40 to 250 °C, not 284"),
        ({"pressure": 207, "pressure_unit": "psi"}, "the bags, read as psi, must be from 0 to 1000 kPa"),
        ({"inside": float("nan")}, "inside pad"),
        ({}, "needs a pad's temperature or the bags' pressure"),
        ({"inside": 140, "temperature_unit": "K"}, "in °C or °F, not 'K'"),
    ],
)
def test_what_no_gauge_can_show_is_refused(bay: CureSite, told: dict[str, float], message: str) -> None:
    with pytest.raises(InvalidValueError, match=message):
        added(bay, GaugeReading(**told))  # type: ignore[arg-type]
    assert not CureReading.objects.exists()


def test_a_slip_is_corrected_beside_it(bay: CureSite) -> None:
    wrong = added(bay, GaugeReading(inside=104, outside=139, pressure=207))
    right = cure_reading_correct(user=bay.technician, wrong=wrong, reading=AT_HOLD, reason="digits turned")
    assert cure_reading_list(user=bay.technician, damage=bay.damage) == [right]
    (history,) = reading_history_list(user=bay.technician, order=bay.order)[bay.damage.pk]
    assert (history.holds, history.slips) == (right, (wrong,))
    assert right.taken_at == wrong.taken_at
    with pytest.raises(ConflictError, match="corrected already"):
        cure_reading_correct(user=bay.technician, wrong=wrong, reading=AT_HOLD, reason="again")
    with pytest.raises(InvalidValueError, match="needs its reason"):
        cure_reading_correct(user=bay.technician, wrong=right, reading=AT_HOLD, reason=" ")


def test_a_withdrawn_reading_stays_on_record(bay: CureSite) -> None:
    gone = cure_reading_correct(user=bay.technician, wrong=added(bay), reading=None, reason="wrong tyre")
    assert cure_reading_list(user=bay.technician, damage=bay.damage) == []
    (history,) = reading_history_list(user=bay.technician, order=bay.order)[bay.damage.pk]
    assert (history.holds, [each.note for each in history.slips]) == (None, ["", "wrong tyre"])
    assert cure_reading_get(user=bay.technician, site=bay.site, reading_id=gone.pk).as_typed == ""


def test_an_accountant_reads_no_gauges(bay: CureSite) -> None:
    with pytest.raises(NotAllowedError):
        cure_reading_add(user=bay.accountant, damage=bay.damage, reading=AT_HOLD)


@pytest.mark.parametrize("count", [1, 3])
def test_readings_are_listed_at_the_same_number_of_queries(
    bay: CureSite, count: int, django_assert_num_queries: object
) -> None:
    """Role and readings: 2 queries."""
    for number in range(count):
        added(bay, at=NOON + timedelta(minutes=15 * number))
    with django_assert_num_queries(2):  # type: ignore[operator]
        told = [
            (str(each), each.recorded_by.username)
            for each in cure_reading_list(user=bay.technician, damage=bay.damage)
        ]
    assert len(told) == count
