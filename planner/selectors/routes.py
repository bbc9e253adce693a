"""Reading routes, size classes and damage limits."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.sizes import TyreSize
from planner.models import DamageLimit, Route, Site, SizeClass, User
from planner.selectors.access import require_on_site


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteTable:
    """The site's size classes and routes, read once for many injuries."""

    size_classes: Sequence[SizeClass]
    routes: Sequence[Route]

    def size_class(self, size: TyreSize) -> SizeClass | None:
        """The first class whose rims hold the size's."""
        for row in self.size_classes:
            if row.smallest_rim_inch <= size.rim_inch <= row.largest_rim_inch:
                return row
        return None

    def route(self, size: TyreSize, zone: str) -> Route | None:
        """The site's route for the zone: of the size class before the one for any size."""
        size_class = self.size_class(size)
        of_zone = {route.size_class_id: route for route in self.routes if route.zone == zone}
        return of_zone.get(size_class.pk if size_class else None) or of_zone.get(None)


def route_table_get(*, site: Site) -> RouteTable:
    """The routes in use with their stages, in three queries."""
    routes = Route.objects.filter(site=site, active=True).prefetch_related("stages")
    return RouteTable(size_classes=list(SizeClass.objects.filter(site=site)), routes=list(routes))


def route_list(*, user: User, site: Site) -> QuerySet[Route]:
    """The routes in use, with their stages."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    routes = Route.objects.filter(site=site, active=True).select_related("size_class")
    return routes.prefetch_related("stages__skill", "stages__place")


def damage_limit_list(*, user: User, site: Site) -> QuerySet[DamageLimit]:
    """The site's damage limits."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return DamageLimit.objects.filter(site=site).select_related("size_class")


def size_class_get(*, site: Site, size: TyreSize) -> SizeClass | None:
    """The class whose rims hold the size's; None where there is none."""
    rims = {"smallest_rim_inch__lte": size.rim_inch, "largest_rim_inch__gte": size.rim_inch}
    return SizeClass.objects.filter(site=site, **rims).first()


def route_get(*, site: Site, size: TyreSize, zone: str) -> Route:
    """The route for a zone: of the size's class before the one for any size; NotFoundError without one."""
    size_class = size_class_get(site=site, size=size)
    routes = Route.objects.filter(site=site, active=True, zone=zone)
    found = routes.filter(size_class=size_class).first() or routes.filter(size_class__isnull=True).first()
    if found is None:
        raise NotFoundError(_("the site has no route for a {zone} repair of {size}", zone=zone, size=size))
    return found
