"""Reading the logged cures of one order."""

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Damage, LoggedCure, Site, User, WorkOrder
from planner.selectors.access import require_on_site


def order_log_list(*, user: User, order: WorkOrder) -> QuerySet[LoggedCure]:
    """The logs of an order's injuries, first to last, with their files, decisions and who signed."""
    require_on_site(user=user, site=order.site, action=Action.SITE_READ)
    logs = LoggedCure.objects.filter(damage__work_order=order).select_related("imported_by", "heater_set")
    return logs.prefetch_related("decisions__signed_by")


def logged_cure_get(*, user: User, site: Site, number: int, log_id: int) -> LoggedCure:
    """One log of an order; NotFoundError where the order has none with this id."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    logs = LoggedCure.objects.select_related("damage__tyre", "site")
    found = logs.filter(site=site, damage__work_order__number=number, pk=log_id).first()
    if found is None:
        raise NotFoundError(_("order {number} has no cure log {log_id}", number=number, log_id=log_id))
    return found


def damage_of_order_get(*, user: User, site: Site, number: int, damage_id: int) -> Damage:
    """One injury of an order; NotFoundError where it is none of that order's."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    damages = Damage.objects.select_related("site", "tyre", "work_order")
    found = damages.filter(site=site, work_order__number=number, pk=damage_id).first()
    if found is None:
        raise NotFoundError(_("order {number} has no injury {damage_id}", number=number, damage_id=damage_id))
    return found
