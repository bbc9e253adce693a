"""Reading assumptions, and what a proposed one would change."""

from dataclasses import dataclass

from django.db.models import QuerySet

from planner.costing.advice import Leaning
from planner.costing.assumptions import ALLOWED, Assumption
from planner.domain.errors import NotFoundError, UserError
from planner.domain.money import Money
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import NOT_BEGUN_WORK
from planner.models import CostAssumption, Site, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.comparisons import compared
from planner.selectors.accounts.desk import Desk, desk_get

_MOST_ORDERS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class AssumptionEffect:
    """One open tyre's saving a year and leaning, before and after the change."""

    order: WorkOrder
    before: Money
    after: Money
    leaning_before: Leaning
    leaning_after: Leaning

    @property
    def turns(self) -> bool:
        """Whether the advice would change."""
        return self.leaning_before is not self.leaning_after


def assumption_list(*, user: User, site: Site) -> QuerySet[CostAssumption]:
    """Every version on file, by name, the latest first."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    return CostAssumption.objects.filter(site=site).select_related("site", "author", "decided_by")


def assumption_get(*, user: User, site: Site, pk: int) -> CostAssumption:
    """One version; NotFoundError where there is none."""
    row = assumption_list(user=user, site=site).filter(pk=pk).first()
    if row is None:
        raise NotFoundError(_("there is no such assumption on {site}", site=site))
    return row


def assumption_units(site: Site) -> dict[Assumption, str]:
    """The unit of every assumption, in the site's currency."""
    return {name: allowed.unit.format(money=site.currency) for name, allowed in ALLOWED.items()}


def assumption_effects(*, user: User, assumption: CostAssumption) -> list[AssumptionEffect]:
    """What the version would change for the open tyres, the most urgent first; 20 at most."""
    site = assumption.site
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    before = desk_get(site=site)
    name = Assumption(assumption.name)
    after = before.changed(name, assumption.value)
    orders = _open_orders(site).order_by("needed_by").select_related("site", "tyre", "route")
    rows = orders.prefetch_related("damages")[:_MOST_ORDERS]
    effects = (_effect(order, before, after) for order in rows)
    return [effect for effect in effects if effect is not None]


def open_tyre_count(*, user: User, site: Site) -> int:
    """How many open tyres a version may change, those beyond the most urgent too."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    return _open_orders(site).count()


def _open_orders(site: Site) -> QuerySet[WorkOrder]:
    return WorkOrder.objects.filter(site=site, state__in=NOT_BEGUN_WORK)


def _effect(order: WorkOrder, before: Desk, after: Desk) -> AssumptionEffect | None:
    try:
        one, two = compared(order, before), compared(order, after)
    except UserError:
        # A tyre that lacks a price or a measure has no comparison to change.
        return None
    return AssumptionEffect(
        order=order,
        before=one.comparison.saving_a_year().rounded(),
        after=two.comparison.saving_a_year().rounded(),
        leaning_before=one.advice.leaning,
        leaning_after=two.advice.leaning,
    )


def assumption_names() -> dict[str, Assumption]:
    """Every assumption by its own words, for whoever asks for one by name."""
    return {name.value: name for name in Assumption}
