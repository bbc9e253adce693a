"""Repairs that come back into the store: when, how surely, and with what odds that they hold."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from planner.costing.assumptions import Assumption
from planner.domain.permissions import Action
from planner.domain.states import OPEN_WORK, WorkOrderState
from planner.models import Site, StageRun, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import assumed_get, site_day
from planner.selectors.plan_odds import ReadyOdds, order_odds_map_get
from planner.selectors.plan_promises import ReadyPromise, promise_map_get
from planner.selectors.plans import plan_published_get

ENOUGH_REPAIRS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldingOdds:
    """The odds that a repair begun is a repair that holds [1]."""

    odds: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairBack:
    """An open order with what the published plan promises of it."""

    order: WorkOrder
    promise: ReadyPromise | None
    odds: ReadyOdds | None

    @property
    def likely_at(self) -> datetime | None:
        """When half of the replays had it ready; the planned time before anything was replayed."""
        return self._planned if self.odds is None else self.odds.p50

    @property
    def surely_at(self) -> datetime | None:
        """When nine of ten replays had it ready; the planned time before anything was replayed."""
        return self._planned if self.odds is None else self.odds.p90

    @property
    def _planned(self) -> datetime | None:
        return self.promise.ready_at if self.promise else None


def repair_back_list(*, user: User, site: Site) -> Mapping[str, list[RepairBack]]:
    """Open orders by the size of their tyres: the first back first, those without a date last."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    plan = plan_published_get(user=user, site=site)
    promises, odds = promise_map_get(plan=plan), order_odds_map_get(plan=plan)
    orders = WorkOrder.objects.filter(site=site, state__in=OPEN_WORK).select_related("tyre", "machine")
    found: dict[str, list[RepairBack]] = {}
    for order in orders.order_by("needed_by", "number"):
        back = RepairBack(order=order, promise=promises.get(order.code), odds=odds.get(order.code))
        found.setdefault(order.tyre.size, []).append(back)
    for backs in found.values():
        backs.sort(key=lambda back: (back.likely_at is None, back.likely_at or back.order.needed_by))
    return found


def holding_odds_get(*, site: Site) -> HoldingOdds:
    """By the site's ended repairs where there are enough, else by the accountant's assumption."""
    begun = WorkOrder.objects.filter(
        site=site, pk__in=StageRun.objects.filter(site=site).values("work_order")
    )
    held = begun.filter(state=WorkOrderState.REPAIRED).count()
    ended = held + begun.filter(state=WorkOrderState.REJECTED).count()
    if ended >= ENOUGH_REPAIRS:
        return HoldingOdds(odds=held / ended, source=f"own records: {held} of {ended} repairs ended well")
    fails = assumed_get(site=site, day=site_day(site)).values.get(Assumption.FAILURE_ODDS)
    if fails is not None:
        return HoldingOdds(odds=1 - float(fails), source=f"assumed: {100 * fails:.0f} % of repairs fail")
    return HoldingOdds(odds=1.0, source="nothing on record or assumed: each repair is counted as holding")
