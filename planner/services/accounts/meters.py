"""Recording the energy that a repair took, from the bay's meter."""

from decimal import Decimal

from planner.costing.lines import CostKind
from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.models import CostUse, User, WorkOrder
from planner.services.accounts.costs import use_record


def meter_record(*, user: User, work_order: WorkOrder, before: Decimal, after: Decimal) -> CostUse:
    """Record two readings as the energy between them [kWh]; InvalidValueError where the meter ran back."""
    if after < before:
        raise InvalidValueError(
            _(
                "the meter showed {before} before and {after} after: check the order of the readings",
                before=before,
                after=after,
            )
        )
    return use_record(
        user=user,
        work_order=work_order,
        kind=CostKind.ENERGY,
        quantity=after - before,
        evidence=f"meter from {before} to {after}",
    )
