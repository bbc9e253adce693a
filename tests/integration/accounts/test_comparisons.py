"""Advice on a tyre, approvals of its spend, and what a changed assumption does to it."""

from datetime import date
from decimal import Decimal

import pytest

from planner.costing.advice import Leaning
from planner.costing.assumptions import Assumption
from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError, NotFoundError
from planner.domain.injury import Zone
from planner.domain.permissions import Role
from planner.domain.states import WorkOrderState
from planner.engineering.life_records import LifeBasis
from planner.models import (
    CostAssumption,
    CostOutcome,
    CostPrice,
    CostRepair,
    CostStock,
    DamageLimit,
    RouteStage,
    StageRun,
    User,
)
from planner.selectors.accounts.approvals import approval_need_get, waiting_get
from planner.selectors.accounts.assumptions import assumption_effects
from planner.selectors.accounts.books import assumed_get
from planner.selectors.accounts.comparisons import RepairComparison, repair_comparison_get
from planner.services.accounts.approvals import spend_approve, unapproved_refuse
from planner.services.accounts.assumptions import assumption_accept, assumption_propose, assumption_refuse
from planner.services.accounts.costs import estimate_book
from planner.services.accounts.periods import period_close
from planner.services.stage_runs import stage_run_start
from planner.services.tyres import damage_measure
from planner.services.work_orders import work_order_decide_to_repair
from tests.lib.books import Books, assumption_add, books, done

pytestmark = pytest.mark.django_db


@pytest.fixture(name="found")
def _found() -> Books:
    return books()


def compared(found: Books) -> RepairComparison:
    return repair_comparison_get(user=found.accountant, site=found.site, number=1)


def test_a_cheap_repair_is_leaned_to(found: Books) -> None:
    result = compared(found)
    assert result.advice.leaning is Leaning.REPAIR
    assert result.life.basis is LifeBasis.ASSUMPTION
    assert [cost.option.kind.value for cost in result.costs] == ["repair now", "buy new"]
    # 20000 and 720 h of waiting at 100, over 8000 h.
    assert result.costs[1].per_hour.amount == Decimal("11.5")
    assert result.figures()[-1][0].figure.amount == result.estimate.total


def test_a_spare_in_stock_means_no_waiting(found: Books) -> None:
    CostStock.objects.create(site=found.site, size="27.00R49", on_hand=1)
    assert compared(found).costs[1].per_hour.amount == Decimal("2.5")


def test_records_speak_before_the_assumption(found: Books) -> None:
    for place in range(10):
        CostOutcome.objects.create(
            site=found.site, serial=f"R{place}", zone=Zone.SIDEWALL, size_class="x",
            repaired_on=date(2025, 1, 1), hours=1000 + 100 * place, failed=True,
        )  # fmt: skip
    result = compared(found)
    assert result.life.basis is LifeBasis.ZONE
    assert float(result.comparison.options[0].hours) == pytest.approx(1450, rel=0.05)


def test_tread_bounds_the_life(found: Books) -> None:
    found.order.tyre.tread_depth_mm = Decimal(11)
    found.order.tyre.save()
    result = compared(found)
    assert (result.bounds.cause, result.bounds.hours) == ("tread", 200)  # 1 mm at 5 mm per 1000 h
    assert result.comparison.options[0].hours <= 200


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"tread_depth_mm": Decimal(9)}, "9.0 mm of tread is left"),
        ({"made_on": date(2010, 1, 1)}, "years old and the limit is 8"),
        ({"repairs_before": 3}, "this would be repair 4"),
    ],
)
def test_beyond_a_limit_nothing_leans_to_repair(found: Books, change: dict[str, object], words: str) -> None:
    for name, value in change.items():
        setattr(found.order.tyre, name, value)
    found.order.tyre.save()
    advice = compared(found).advice
    assert advice.leaning is Leaning.NOT_TO_BE_REPAIRED
    assert words in advice.sentence


def test_damage_beyond_the_limit_too(found: Books) -> None:
    DamageLimit.objects.create(site=found.site, zone=Zone.SIDEWALL, largest_length_mm=199, source="AS 4457.2")
    advice = compared(found).advice
    assert advice.leaning is Leaning.NOT_TO_BE_REPAIRED
    assert "200 mm is over the limit of 199 mm (AS 4457.2)" in advice.sentence


def test_sending_out_is_compared_where_it_has_a_price(found: Books) -> None:
    CostPrice.objects.create(
        site=found.site, kind="send out", item="27.00R49", unit="tyre", amount=100, currency="AUD",
        effective_from=date(2024, 1, 1), source="quote",
    )  # fmt: skip
    result = compared(found)
    assert result.costs[0].option.kind.value == "send out"
    assert result.advice.leaning is Leaning.OTHER


def test_a_missing_assumption_is_named(found: Books) -> None:
    CostAssumption.objects.filter(name=Assumption.NEW_LIFE).delete()
    with pytest.raises(InvalidValueError, match="no accepted assumption for life of a new tyre"):
        compared(found)


def test_who_may_not_read_money_is_refused(found: Books) -> None:
    with pytest.raises(NotAllowedError):
        repair_comparison_get(user=found.people[Role.TECHNICIAN], site=found.site, number=1)
    with pytest.raises(NotFoundError):
        repair_comparison_get(user=User.objects.create_user("stranger"), site=found.site, number=1)


def test_the_effect_of_an_assumption_is_seen_before_it_is_accepted(found: Books) -> None:
    row = assumption_propose(
        user=found.accountant, site=found.site, name=Assumption.LEAD_TIME, value=Decimal(0),
        effective_from=date(2026, 11, 1), reason="a store opened next door",
    )  # fmt: skip
    (effect,) = assumption_effects(user=found.accountant, assumption=row)
    # 720 h of waiting at 100 over 8000 h, 5000 h a year: 45000 a year less saved.
    assert (effect.before - effect.after).amount == Decimal("45000.00")
    assert assumed_get(site=found.site, day=date(2026, 12, 1))[Assumption.LEAD_TIME] == 720
    assumption_accept(user=found.accountant, assumption=row)
    assert assumed_get(site=found.site, day=date(2026, 10, 31))[Assumption.LEAD_TIME] == 720
    assert assumed_get(site=found.site, day=date(2026, 11, 1))[Assumption.LEAD_TIME] == 0
    with pytest.raises(ConflictError, match="accepted already"):
        assumption_refuse(user=found.accountant, assumption=row, why="no")


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"reason": " "}, "needs a reason"),
        ({"value": Decimal(-1)}, "must be from 0 to 20000 h"),
        ({"effective_from": date(2026, 9, 30)}, "September 2026 is closed"),
    ],
)
def test_a_faulty_assumption_is_refused(found: Books, changes: dict[str, object], message: str) -> None:
    period_close(user=found.accountant, site=found.site, month=date(2026, 9, 1))
    told = {"value": Decimal(1), "effective_from": date(2026, 11, 1), "reason": "told"} | changes
    with pytest.raises((InvalidValueError, ConflictError), match=message):
        assumption_propose(user=found.accountant, site=found.site, name=Assumption.LEAD_TIME, **told)  # type: ignore[arg-type]


def test_two_persons_above_a_limit_one_below_it_none_under(found: Books) -> None:
    # The estimate is 1198.80.
    assert approval_need_get(user=found.accountant, order=found.order).missing == 1
    assumption_add(found.site, found.accountant, Assumption.TWO_APPROVALS, "1198.79", date(2024, 1, 2))
    assert approval_need_get(user=found.accountant, order=found.order).missing == 2
    spend_approve(user=found.accountant, work_order=found.order)
    with pytest.raises(ConflictError, match=r"you approved WO-0001 already: .* needs approval by one more"):
        spend_approve(user=found.accountant, work_order=found.order)
    spend_approve(user=found.people[Role.SUPERVISOR], work_order=found.order)
    assert approval_need_get(user=found.accountant, order=found.order).missing == 0
    assumption_add(found.site, found.accountant, Assumption.TWO_APPROVALS, "1198.80", date(2024, 1, 3))
    assert approval_need_get(user=found.accountant, order=found.order).persons == 1
    assumption_add(found.site, found.accountant, Assumption.ONE_APPROVAL, "1198.80", date(2024, 1, 2))
    assert approval_need_get(user=found.accountant, order=found.order).persons == 0


def test_an_approval_covers_no_more_than_was_approved(found: Books) -> None:
    spend_approve(user=found.accountant, work_order=found.order)
    CostPrice.objects.filter(kind="transport").update(amount=Decimal(151))
    # What was booked stays the spend until it is booked again.
    assert approval_need_get(user=found.accountant, order=found.order).missing == 0
    estimate_book(user=found.accountant, work_order=found.order)
    assert approval_need_get(user=found.accountant, order=found.order).missing == 1
    CostPrice.objects.filter(kind="transport").update(amount=Decimal(149))
    estimate_book(user=found.accountant, work_order=found.order)
    assert approval_need_get(user=found.accountant, order=found.order).missing == 0


def test_work_begins_only_when_its_spend_is_approved(found: Books) -> None:
    user, damage = found.people[Role.SUPERVISOR], found.order.damages.get()
    work_order_decide_to_repair(user=user, work_order=found.order)
    assert found.order.cost.estimate_minor == 119880
    RouteStage.objects.filter(name="skive").update(crew=1)

    def begin() -> StageRun:
        return stage_run_start(user=user, damage=damage, stage_name="skive", technicians=[found.technician])

    who = "one more person: an accountant or supervisor of this site"
    with pytest.raises(ConflictError, match=f"WO-0001 cannot be begun: .* {who}"):
        begin()
    assert waiting_get(user=user, site=found.site) == {"WO-0001": f"its spend still needs approval by {who}"}
    spend_approve(user=found.accountant, work_order=found.order)
    assert waiting_get(user=user, site=found.site) == {}
    assert begin().work_order.state == WorkOrderState.IN_HAND


def test_a_larger_injury_needs_a_larger_approval(found: Books) -> None:
    user = found.people[Role.SUPERVISOR]
    work_order_decide_to_repair(user=user, work_order=found.order)
    spend_approve(user=user, work_order=found.order)
    damage_measure(
        user=user, damage=found.order.damages.get(), length_mm=260, width_mm=100, depth_mm=50, plies=0
    )
    assert approval_need_get(user=found.accountant, order=found.order).missing == 1


def test_a_site_without_prices_is_not_held_up(found: Books) -> None:
    CostPrice.objects.all().delete()
    user = found.people[Role.SUPERVISOR]
    work_order_decide_to_repair(user=user, work_order=found.order)
    unapproved_refuse(user=user, work_order=found.order)
    assert not CostRepair.objects.exists()


def test_nothing_is_approved_once_work_is_over(found: Books) -> None:
    done(found)
    with pytest.raises(ConflictError, match="is over: there is no spend left to approve"):
        spend_approve(user=found.accountant, work_order=found.order)


def test_one_version_of_an_assumption_from_a_day(found: Books) -> None:
    first, second = (
        assumption_propose(
            user=found.accountant, site=found.site, name=Assumption.LEAD_TIME, value=Decimal(value),
            effective_from=date(2026, 11, 1), reason="told",
        )
        for value in (1, 2)
    )  # fmt: skip
    assumption_accept(user=found.accountant, assumption=first)
    with pytest.raises(ConflictError, match="propose one from another day"):
        assumption_accept(user=found.accountant, assumption=second)


def test_a_technician_approves_nothing(found: Books) -> None:
    with pytest.raises(NotAllowedError):
        spend_approve(user=found.people[Role.TECHNICIAN], work_order=found.order)
