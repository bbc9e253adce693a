"""Booking a repair, to the cent, into its month."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from planner.costing.assumptions import Assumption
from planner.costing.lines import CostKind
from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError
from planner.domain.money import Money, money_sum
from planner.domain.permissions import Role
from planner.models import AuditEvent, CostPrice, RouteStage, Shift, Site, StageRun, Technician
from planner.selectors.accounts.approvals import approval_need_get
from planner.selectors.accounts.months import account_month_get
from planner.selectors.accounts.repairs import RepairFilter, repair_books_get, repair_list
from planner.selectors.accounts.sheets import actual_get, estimate_get
from planner.services.accounts.costs import actual_book, estimate_book, use_record
from planner.services.accounts.periods import period_close
from tests.lib.books import RECEIVED, Books, assumption_add, books, done

pytestmark = pytest.mark.django_db
OCTOBER = date(2026, 10, 1)


@pytest.fixture(name="found")
def _found() -> Books:
    return books()


def aud(amount: str) -> Money:
    return Money(Decimal(amount), "AUD")


def test_an_estimate_by_hand(found: Books) -> None:
    lines = {line.kind: line.amount for line in estimate_get(user=found.accountant, order=found.order).lines}
    assert lines[CostKind.ENERGY] == aud("6.00")  # 100 + 2 × 50 = 200 min at 6 kWh an hour, 0.30 each
    assert lines[CostKind.MATERIAL] == aud("30.00")  # 1 litre at 1.5 kg, 20 each
    assert lines[CostKind.HEATER_SET] == aud("40.00")  # 200 min at 12
    assert lines[CostKind.BAY] == aud("30.00")  # 200 min at 9
    assert lines[CostKind.TRANSPORT] == aud("300.00")
    assert lines[CostKind.INSPECTION] == aud("85.00")
    labour = estimate_get(user=found.accountant, order=found.order).of(CostKind.LABOUR)
    # 2 × 300 min at 50, and half an attendant for 200 min at 50.
    assert [line.amount for line in labour] == [aud("500.00"), aud("83.33")]
    assert lines[CostKind.REWORK] == aud("34.47")  # 0.05 × 689.33 = 34.4665
    assert lines[CostKind.DISPOSAL] == aud("90.00")
    assert estimate_get(user=found.accountant, order=found.order).total == aud("1198.80")


def test_an_actual_and_its_variance_by_hand(found: Books) -> None:
    done(found)
    user = found.people[Role.SUPERVISOR]
    use_record(
        user=user, work_order=found.order, kind=CostKind.MATERIAL, item="repair rubber",
        quantity=Decimal(2), evidence="lot 7",
    )  # fmt: skip
    use_record(user=user, work_order=found.order, kind=CostKind.ENERGY, item="meter", quantity=Decimal(30))
    actual_book(user=found.accountant, work_order=found.order)
    sheet = actual_get(user=found.accountant, order=found.order)
    # 330 min at 50 = 275; half of 230 min at 50 = 95.83; rubber 40; energy 9; set 230 min at 12 = 46.
    assert sheet.total == aud("465.83")
    month = account_month_get(user=found.accountant, site=found.site, month=OCTOBER)
    assert month.totals.repairs == 1
    assert month.totals.actual == aud("465.83")
    assert month.totals.estimate == aud("1198.80")
    assert month.totals.avoided == aud("20000.00")
    assert money_sum((amount for _, amount in month.causes), "AUD") == month.totals.variance
    # 270 min less skiving (−225), 15 min more attending (12.50), set 30 min more (6), no bay (−30).
    assert dict(month.causes)["efficiency"] == aud("-236.50")


def test_hours_outside_the_roster_are_overtime(found: Books) -> None:
    done(found)
    technician = Technician.objects.get()
    until = RECEIVED + timedelta(minutes=300)
    Shift.objects.create(
        site=found.site, technician=technician, day=RECEIVED.date(), starts_at=RECEIVED, ends_at=until
    )
    (premium,) = actual_get(user=found.accountant, order=found.order).of(CostKind.OVERTIME)
    assert (premium.quantity, premium.amount) == (Decimal(30), aud("12.50"))  # 30 min at 50 × 0.5


def test_the_roster_says_nothing_of_the_time_before_it(found: Books) -> None:
    done(found)
    start = RECEIVED + timedelta(days=1)
    Shift.objects.create(
        site=found.site, technician=found.technician, day=start.date(), starts_at=start,
        ends_at=start + timedelta(hours=8),
    )  # fmt: skip
    assert not actual_get(user=found.accountant, order=found.order).of(CostKind.OVERTIME)


def test_somebody_stands_beside_a_tyre_that_cools_where_the_site_says_so(found: Books) -> None:
    stage = RouteStage.objects.get(name="cure")
    RouteStage.objects.create(
        route=stage.route, sequence=3, name="cool", kind="pressurised", base_minutes=90, block=True,
        place=stage.place,
    )  # fmt: skip
    done(found)
    StageRun.objects.create(
        site=found.site, work_order=found.order, damage=found.order.damages.get(), sequence=3, name="cool",
        state="done", started_at=RECEIVED, ended_at=RECEIVED + timedelta(minutes=60),
    )  # fmt: skip

    def labour() -> list[dict[str, str]]:
        sheets = (get(user=found.accountant, order=found.order) for get in (estimate_get, actual_get))
        return [
            {line.item: str(line.amount.amount) for line in sheet.of(CostKind.LABOUR)} for sheet in sheets
        ]

    # Half an attendant at 50: 90 min planned, 60 min recorded.
    assert [each["cool, fitter"] for each in labour()] == ["37.50", "25.00"]
    Site.objects.update(watch_cool_down=False)
    found.order.refresh_from_db()
    assert all("cool, fitter" not in each for each in labour())


def test_a_share_of_overtime_is_planned_where_it_is_assumed(found: Books) -> None:
    assumption_add(found.site, found.accountant, Assumption.OVERTIME_SHARE, "0.1")
    (premium,) = estimate_get(user=found.accountant, order=found.order).of(CostKind.OVERTIME)
    assert (premium.quantity, premium.amount) == (60, aud("25.00"))  # a tenth of 600 min at 50 × 0.5


def test_only_those_who_may_read_money_are_told_an_amount(found: Books) -> None:
    for get in (estimate_get, actual_get, approval_need_get):
        with pytest.raises(NotAllowedError):
            get(user=found.people[Role.TECHNICIAN], order=found.order)  # type: ignore[operator]
    with pytest.raises(NotAllowedError):
        estimate_book(user=found.people[Role.PLANNER], work_order=found.order)


def test_an_estimate_is_booked_again_until_work_begins(found: Books) -> None:
    estimate_book(user=found.accountant, work_order=found.order)
    CostPrice.objects.filter(kind="transport").update(amount=Decimal(160))
    assert estimate_book(user=found.accountant, work_order=found.order).estimate_minor == 121880
    found.order.state = "in_hand"
    found.order.save()
    with pytest.raises(ConflictError, match="has begun: what was estimated before it stands"):
        estimate_book(user=found.accountant, work_order=found.order)


def test_a_scrapped_tyre_avoids_nothing(found: Books) -> None:
    done(found, "rejected")
    row = actual_book(user=found.accountant, work_order=found.order)
    assert (row.failed, row.avoided_minor, row.hours_gained) == (True, 0, 0)
    month = account_month_get(user=found.accountant, site=found.site, month=OCTOBER)
    assert (month.totals.failures, month.totals.cost_per_hour) == (1, None)


def test_the_estimate_is_kept_when_prices_change(found: Books) -> None:
    estimate_book(user=found.accountant, work_order=found.order)
    CostPrice.objects.filter(kind="labour").update(amount=Decimal(400))
    books_of = repair_books_get(user=found.accountant, site=found.site, number=1)
    assert books_of.row.estimate == books_of.estimate[0].figure.amount == aud("1198.80")


def test_an_actual_is_booked_once_and_only_of_ended_work(found: Books) -> None:
    with pytest.raises(InvalidValueError, match="is not over"):
        actual_book(user=found.accountant, work_order=found.order)
    done(found)
    actual_book(user=found.accountant, work_order=found.order)
    with pytest.raises(ConflictError, match="booked already, in October 2026"):
        actual_book(user=found.accountant, work_order=found.order)
    with pytest.raises(ConflictError, match="nothing can be added"):
        use_record(
            user=found.people[Role.SUPERVISOR], work_order=found.order, kind=CostKind.ENERGY, item="meter",
            quantity=Decimal(1),
        )  # fmt: skip


def test_a_closed_month_takes_nothing_more(found: Books) -> None:
    period_close(user=found.accountant, site=found.site, month=OCTOBER)
    done(found)
    row = actual_book(user=found.accountant, work_order=found.order)
    assert row.month == date(2026, 11, 1)  # what came late counts in the first open month
    assert account_month_get(user=found.accountant, site=found.site, month=OCTOBER).totals.repairs == 0
    with pytest.raises(ConflictError, match="closed already"):
        period_close(user=found.accountant, site=found.site, month=OCTOBER)


def test_a_month_with_repairs_to_book_stays_open(found: Books) -> None:
    done(found)
    with pytest.raises(ConflictError, match="October 2026 is not complete: book WO-0001 first"):
        period_close(user=found.accountant, site=found.site, month=OCTOBER)
    actual_book(user=found.accountant, work_order=found.order)
    period_close(user=found.accountant, site=found.site, month=OCTOBER)


def test_a_month_is_closed_when_it_is_over_and_by_whom_may(found: Books) -> None:
    with pytest.raises(InvalidValueError, match="is not over"):
        period_close(user=found.accountant, site=found.site, month=date(2999, 1, 1))
    with pytest.raises(NotAllowedError):
        period_close(user=found.people[Role.SUPERVISOR], site=found.site, month=OCTOBER)


def test_every_write_is_told_to_the_audit_chain(found: Books) -> None:
    done(found)
    actual_book(user=found.accountant, work_order=found.order)
    actions = list(AuditEvent.objects.order_by("sequence").values_list("action", flat=True))
    assert actions == ["estimate_book", "actual_book"]


def test_the_list_is_filtered(found: Books) -> None:
    done(found)
    actual_book(user=found.accountant, work_order=found.order)

    def count(**wanted: object) -> int:
        wanted_filter = RepairFilter(**wanted)  # type: ignore[arg-type]
        return repair_list(user=found.accountant, site=found.site, wanted=wanted_filter).count()

    assert count() == count(month=OCTOBER) == count(zone="sidewall", size="27.00", search="WO-0001 sn") == 1
    assert (
        count(month=date(2026, 9, 1)) == count(zone="crown") == count(failed=True) == count(search="x") == 0
    )
