"""Reading the fleet: machines and tyres."""

from django.db.models import Q, QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Damage, Machine, Site, Tyre, User
from planner.selectors.access import require_on_site


def machine_list(*, user: User, site: Site) -> QuerySet[Machine]:
    """The machines in use, by code."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return Machine.objects.filter(site=site, active=True)


def tyre_list(*, user: User, site: Site, search: str = "") -> QuerySet[Tyre]:
    """The tyres by serial, with their machines; `search` looks in serial and size."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    tyres = Tyre.objects.filter(site=site).select_related("machine")
    if search:
        tyres = tyres.filter(Q(serial__icontains=search) | Q(size__icontains=search))
    return tyres


def tyre_get(*, user: User, site: Site, serial: str) -> Tyre:
    """One tyre; NotFoundError where there is none with this serial."""
    tyre = tyre_list(user=user, site=site).filter(serial=serial).first()
    if tyre is None:
        raise NotFoundError(_("there is no tyre {serial} on {site}", serial=serial, site=site))
    return tyre


def damage_list(*, user: User, site: Site, tyre: Tyre) -> QuerySet[Damage]:
    """The injuries of a tyre, first to last, with their orders and who noted them."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    damages = Damage.objects.filter(site=site, tyre=tyre)
    return damages.select_related("site", "tyre", "work_order", "noted_by")
