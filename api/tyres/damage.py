"""Damage of a tyre: list, record, read, measure."""

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from api.tyres.shapes import DamageMeasure, DamageRecord, DamageShape
from planner.domain.injury import Zone
from planner.domain.permissions import Action
from planner.selectors.fleet import damage_list, tyre_list
from planner.selectors.nouns import Damage
from planner.services.tyres import damage_measure, damage_record


class TyreDamage(SiteView):
    """The injuries of a tyre."""

    actions = {"GET": Action.SITE_READ, "POST": Action.DAMAGE_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="damage_list", responses=DamageShape(many=True))
    def get(self, request: Request, site: str, tyre: int) -> Response:
        """The injuries, first to last."""
        return self.page(damages_of(self, tyre), DamageShape)

    @extend_schema(operation_id="damage_record", request=DamageRecord, responses={201: DamageShape})
    def post(self, request: Request, site: str, tyre: int) -> Response:
        """Record an injury; it joins the tyre's next work order."""
        return self.once(lambda: self._recorded(tyre))

    def _recorded(self, tyre: int) -> Response:
        row = found(tyre_list(user=self.user, site=self.site), pk=tyre)
        values = self.sent(DamageRecord)
        zone = Zone(values.pop("zone"))
        damage = damage_record(user=self.user, tyre=row, zone=zone, **values)
        return self.one(damage, DamageShape, status=201)


class OneDamage(SiteView):
    """One injury of a tyre."""

    actions = {"GET": Action.SITE_READ, "PATCH": Action.DAMAGE_RECORD}

    @extend_schema(operation_id="damage_get", responses=DamageShape)
    def get(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """One injury."""
        return self.one(found(damages_of(self, tyre), pk=damage), DamageShape)

    @extend_schema(operation_id="damage_measure", request=DamageMeasure, responses=DamageShape)
    def patch(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """Replace the guessed size by the one measured after skiving."""
        row = found(damages_of(self, tyre), pk=damage)
        self.refuse_unmatched(row, DamageShape)
        damage_measure(user=self.user, damage=row, **self.sent(DamageMeasure))
        return self.one(row, DamageShape)


def damages_of(view: SiteView, tyre: int) -> QuerySet[Damage]:
    """The injuries of a tyre that the caller may see."""
    row = found(tyre_list(user=view.user, site=view.site), pk=tyre)
    return damage_list(user=view.user, site=view.site, tyre=row)
