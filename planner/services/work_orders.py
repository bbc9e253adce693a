"""Writing work orders: receiving a tyre, deciding, holding, dating and ending its repair."""

from datetime import datetime

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import WORK_ORDER_STATES, TyreState, WorkOrderState
from planner.models import Damage, Machine, Route, Site, Tyre, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.services.accounts.costs import estimate_keep
from planner.services.rows import row_add, row_change

_ENDED = (WorkOrderState.REPAIRED, WorkOrderState.REJECTED, WorkOrderState.CALLED_OFF)


def work_order_receive(
    *,
    user: User,
    site: Site,
    tyre: Tyre,
    needed_by: datetime,
    priority: int | None = None,
    machine: Machine | None = None,
    route: Route | None = None,
    released_at: datetime | None = None,
    received_at: datetime | None = None,
    why: str = "",
) -> WorkOrder:
    """Open a work order for a damaged tyre and give it the site's next number.

    Priority (1 to 100) is the machine's where none is given, and 10 without a machine. Damage of the
    tyre that has no order yet joins this one. A fitted or quarantined tyre is refused: heat on a fitted
    tyre can burst it, and one that has seen heat stays apart first.
    """
    require_on_site(user=user, site=site, action=Action.WORK_ORDER_RECEIVE)
    _refuse_unsafe(tyre)
    with transaction.atomic():
        Site.objects.select_for_update().get(pk=site.pk)
        last = WorkOrder.objects.filter(site=site).aggregate(last=Max("number"))["last"] or 0
        received_at = received_at or timezone.now()
        order = WorkOrder(
            site=site,
            number=last + 1,
            tyre=tyre,
            machine=machine,
            route=route,
            priority=priority or (machine.priority if machine else 10),
            received_at=received_at,
            released_at=released_at or received_at,
            needed_by=needed_by,
        )
        row_add(user=user, site=site, row=order, action="work_order_receive", why=why)
        Damage.objects.filter(tyre=tyre, work_order__isnull=True).update(work_order=order)
    return order


def work_order_date(
    *,
    user: User,
    work_order: WorkOrder,
    needed_by: datetime,
    priority: int,
    why: str,
    expected_version: int | None = None,
) -> None:
    """Change when the tyre is needed and how much each late minute weighs."""
    require_on_site(user=user, site=work_order.site, action=Action.WORK_ORDER_DATE)
    row_change(
        user=user,
        site=work_order.site,
        row=work_order,
        values={"needed_by": needed_by, "priority": priority},
        action="work_order_date",
        why=why,
        expected_version=expected_version,
    )


def work_order_decide_to_repair(*, user: User, work_order: WorkOrder, why: str = "") -> None:
    """Decide that the tyre is repaired: from now on it is planned, and its estimate is booked.

    Needs its damage on record.
    """
    if not work_order.damages.exists():
        raise InvalidValueError(
            _("{work_order}: record the damage before the decision to repair", work_order=work_order)
        )
    with transaction.atomic():
        _move(user, work_order, "decide_to_repair", why)
        estimate_keep(user=user, work_order=work_order, why="decided to repair")


def work_order_reject(*, user: User, work_order: WorkOrder, why: str) -> None:
    """Decide that the tyre is not repaired, before work or after the damage is cut open."""
    _move(user, work_order, "reject", _reason(why))


def work_order_hold(*, user: User, work_order: WorkOrder, why: str) -> None:
    """Keep the order out of plans until it is released."""
    _move(user, work_order, "hold", _reason(why))


def work_order_release(*, user: User, work_order: WorkOrder, why: str = "") -> None:
    """Let a held order be planned again."""
    _move(user, work_order, "release", why)


def work_order_call_off(*, user: User, work_order: WorkOrder, why: str) -> None:
    """End an order on which no work was done."""
    _move(user, work_order, "call_off", _reason(why))


def work_order_state_set(*, user: User | None, work_order: WorkOrder, move: str, why: str = "") -> None:
    """Make a move that follows from recorded work; who may record the work has been asked already."""
    state = WORK_ORDER_STATES.after(work_order.state, move)
    values = {"state": state, "state_reason": why, "closed_at": timezone.now() if state in _ENDED else None}
    row_change(
        user=user, site=work_order.site, row=work_order, values=values, action=f"work_order_{move}", why=why
    )


def _move(user: User, work_order: WorkOrder, move: str, why: str) -> None:
    require_on_site(user=user, site=work_order.site, action=Action.WORK_ORDER_DECIDE)
    work_order_state_set(user=user, work_order=work_order, move=move, why=why)


def _reason(why: str) -> str:
    if not why.strip():
        raise InvalidValueError(_("say why: the reason stays on record"))
    return why


def _refuse_unsafe(tyre: Tyre) -> None:
    if tyre.state == TyreState.FITTED:
        raise InvalidValueError(_("{tyre} is fitted: repair heat is only for a demounted tyre", tyre=tyre))
    if tyre.state != TyreState.OFF_MACHINE:
        raise InvalidValueError(
            _(
                "{tyre} is {state}: it cannot be received for repair",
                tyre=tyre,
                state=tyre.get_state_display(),
            )
        )
