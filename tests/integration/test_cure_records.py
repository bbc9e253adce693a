"""Charts, materials, logs and decisions of cures, through services and selectors."""

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from planner.domain.cure_limits import CureLimits
from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError
from planner.models import AuditEvent, CureChartLine, CureDecision, LoggedCure, MaterialUse
from planner.selectors.cure_figures import CureFigures, cure_figures_by_damage
from planner.selectors.cure_plans import PlannedCure
from planner.selectors.cure_spreads import CureSpread, cure_spreads_by_damage
from planner.selectors.cures import logged_cure_list, logger_columns_get, lot_warning_list
from planner.services.logged_cures import cure_decision_sign, cure_log_import
from planner.services.materials import lot_left, material_use_record
from tests.integration.cure_site import CureSite
from tests.lib.cure_logs import COLUMNS, PLAN, readings, rows

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 8, 3, 4, 0, tzinfo=UTC)  # 12:00 in Perth


@pytest.fixture
def bay() -> CureSite:
    return CureSite()


def log_file(extra: str = "") -> bytes:
    lines = [",".join(map(str, row.values())) for row in rows(*readings())]
    return "\n".join(["Time,In,Out,Bag", *lines, extra]).encode()


def imported(bay: CureSite, raw: bytes) -> LoggedCure:
    return cure_log_import(
        user=bay.technician, damage=bay.damage, raw=raw, name="set-a.csv", columns=COLUMNS,
        planned=PlannedCure(plan=PLAN, limits=CureLimits()), logger="set a",
    )  # fmt: skip


def figures(bay: CureSite) -> CureFigures:
    return cure_figures_by_damage(site=bay.site, damages=[bay.damage])[bay.damage.pk]


def spread(bay: CureSite) -> CureSpread:
    return cure_spreads_by_damage(site=bay.site, damages=[bay.damage])[bay.damage.pk]


def test_minutes_come_from_the_chart_with_the_models_verdict(bay: CureSite) -> None:
    told = figures(bay)
    assert (told.heat_up_min, told.timed_min, told.verdict) == (30, 90, "longer")
    assert told.model_min < 90


def test_a_planned_cure_comes_with_its_spread(bay: CureSite) -> None:
    """The chart's minutes do not move: the block spreads with the cool-down alone."""
    told, planned = spread(bay), figures(bay)
    assert told.need_p50 <= told.need_p90
    assert told.cool_down_p50 < told.cool_down_p90
    assert told.block_p90 == planned.heat_up_min + 90 + told.cool_down_p90
    assert (told.enough_of_100, told.samples) == (100, 200)


def test_a_chart_that_is_short_is_seldom_enough(bay: CureSite) -> None:
    CureChartLine.objects.filter(thickness_mm=40).update(timed_min=figures(bay).model_min)
    assert 20 < spread(bay).enough_of_100 < 80


def test_deeper_than_the_chart_is_refused_with_the_model_beside_it(bay: CureSite) -> None:
    bay.measure(90)
    told = figures(bay)
    assert told.timed_min is None
    assert "runs from 20 to 60 mm" in told.message
    assert told.model_min > 130
    assert spread(bay).need_p90 >= told.model_min


def test_a_log_is_kept_with_its_file_verdict_and_columns(bay: CureSite) -> None:
    logged = imported(bay, log_file())
    assert logged.verdict == "within_plan"
    assert bytes(LoggedCure.objects.get().file_raw) == log_file()
    assert logger_columns_get(user=bay.technician, site=bay.site, logger="set a") == COLUMNS
    assert AuditEvent.objects.filter(action="cure_log_import").count() == 1


def test_the_same_file_twice_is_a_conflict(bay: CureSite) -> None:
    imported(bay, log_file())
    with pytest.raises(ConflictError, match="imported for this injury before"):
        imported(bay, log_file())


def test_a_file_that_cannot_be_read_leaves_nothing_behind(bay: CureSite) -> None:
    with pytest.raises(InvalidValueError, match="no column"):
        imported(bay, b"when,what\n1,2\n")
    assert not LoggedCure.objects.exists()


def test_a_person_decides_and_a_correction_adds_a_decision(bay: CureSite) -> None:
    logged = imported(bay, log_file())
    assert not CureDecision.objects.exists()  # the verdict alone decides nothing
    first = cure_decision_sign(user=bay.supervisor, logged_cure=logged, accepted=True, reason="within plan")
    cure_decision_sign(user=bay.supervisor, logged_cure=logged, accepted=False, reason="blister found")
    first.refresh_from_db()
    assert (first.accepted, first.reason) == (True, "within plan")
    assert [each.number for each in logged.decisions.all()] == [1, 2]


def test_only_a_supervisor_signs_and_only_with_a_reason(bay: CureSite) -> None:
    logged = imported(bay, log_file())
    with pytest.raises(NotAllowedError):
        cure_decision_sign(user=bay.technician, logged_cure=logged, accepted=True, reason="fine")
    with pytest.raises(InvalidValueError, match="needs its reason"):
        cure_decision_sign(user=bay.supervisor, logged_cure=logged, accepted=True, reason=" ")


def test_an_expired_lot_is_refused_and_its_last_day_is_not(bay: CureSite) -> None:
    """NOON is 3 August 2026 in Perth."""
    material_use_record(
        user=bay.technician, lot=bay.lot("L1", date(2026, 8, 3)), work_order=bay.order,
        quantity=Decimal(2), used_at=NOON,
    )  # fmt: skip
    with pytest.raises(InvalidValueError, match="expired on 02 Aug 2026"):
        material_use_record(
            user=bay.technician, lot=bay.lot("L2", date(2026, 8, 2)), work_order=bay.order,
            quantity=Decimal(2), used_at=NOON,
        )  # fmt: skip
    assert MaterialUse.objects.count() == 1


def test_a_lot_gives_no_more_than_it_holds(bay: CureSite) -> None:
    lot = bay.lot("L1", date(2027, 1, 1), quantity="5")
    for quantity in ("3", "2"):
        material_use_record(
            user=bay.technician, lot=lot, work_order=bay.order, quantity=Decimal(quantity), used_at=NOON
        )
    assert lot_left(lot=lot) == 0
    with pytest.raises(InvalidValueError, match="has 0 kg left"):
        material_use_record(
            user=bay.technician, lot=lot, work_order=bay.order, quantity=Decimal(1), used_at=NOON
        )


def test_an_accountant_takes_no_material(bay: CureSite) -> None:
    with pytest.raises(NotAllowedError):
        material_use_record(
            user=bay.accountant, lot=bay.lot("L1", date(2027, 1, 1)), work_order=bay.order,
            quantity=Decimal(1), used_at=NOON,
        )  # fmt: skip


def test_lots_near_their_date_are_warned_of_while_something_is_left(bay: CureSite) -> None:
    near, used_up = bay.lot("near", date(2026, 8, 20)), bay.lot("empty", date(2026, 8, 21), quantity="1")
    bay.lot("far", date(2026, 12, 1))
    material_use_record(
        user=bay.technician, lot=used_up, work_order=bay.order, quantity=Decimal(1), used_at=NOON
    )
    assert list(lot_warning_list(user=bay.technician, site=bay.site, today=date(2026, 8, 3))) == [near]


@pytest.mark.parametrize("count", [1, 3])
def test_logs_are_listed_at_the_same_number_of_queries(
    bay: CureSite, count: int, django_assert_num_queries: object
) -> None:
    """Role, logs, their decisions, who signed: 4 queries."""
    for number in range(count):
        logged = imported(bay, log_file(extra="\n" * number))
        cure_decision_sign(user=bay.supervisor, logged_cure=logged, accepted=True, reason="within plan")
    with django_assert_num_queries(4):  # type: ignore[operator]
        for logged in logged_cure_list(user=bay.technician, damage=bay.damage):
            assert [each.signed_by.username for each in logged.decisions.all()] == ["sol"]
