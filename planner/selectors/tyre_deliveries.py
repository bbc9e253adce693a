"""Reading what is on order."""

from django.db.models import QuerySet

from planner.domain.permissions import Action
from planner.models import Site, TyreDelivery, User
from planner.selectors.access import require_on_site


def tyre_delivery_list(*, user: User, site: Site) -> QuerySet[TyreDelivery]:
    """Every delivery of the site, those that arrived among them, the soonest first."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return TyreDelivery.objects.filter(site=site)
