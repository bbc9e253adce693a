"""Tyres: list, register, read, move."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from api.tyres.shapes import TyreMove, TyreRegister, TyreSearch, TyreShape
from planner.domain.permissions import Action
from planner.selectors.fleet import machine_list, tyre_list
from planner.selectors.nouns import Tyre
from planner.services.tyres import tyre_move, tyre_register


class Tyres(SiteView):
    """The tyres of a site."""

    actions = {"GET": Action.SITE_READ, "POST": Action.TYRE_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="tyre_list", parameters=[TyreSearch], responses=TyreShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """The tyres by serial."""
        return self.page(tyre_list(user=self.user, site=self.site, **self.asked(TyreSearch)), TyreShape)

    @extend_schema(operation_id="tyre_register", request=TyreRegister, responses={201: TyreShape})
    def post(self, request: Request, site: str) -> Response:
        """Put a tyre on file; its size is read as people write it."""
        return self.once(self._registered)

    def _registered(self) -> Response:
        tyre = tyre_register(user=self.user, site=self.site, **self.sent(TyreRegister))
        return self.one(tyre, TyreShape, status=201)


class OneTyre(SiteView):
    """One tyre."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="tyre_get", responses=TyreShape)
    def get(self, request: Request, site: str, tyre: int) -> Response:
        """One tyre."""
        return self.one(found(tyre_list(user=self.user, site=self.site), pk=tyre), TyreShape)


class TyreMoves(SiteView):
    """Moves of one tyre between its states."""

    actions = {"POST": Action.TYRE_RECORD}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="tyre_move", request=TyreMove, responses=TyreShape)
    def post(self, request: Request, site: str, tyre: int) -> Response:
        """Fit, demount, quarantine, clear or take out of service."""
        row = found(tyre_list(user=self.user, site=self.site), pk=tyre)
        self.refuse_unmatched(row, TyreShape)
        values = self.sent(TyreMove)
        move, why = values.pop("move"), values.pop("why")
        tyre_move(user=self.user, tyre=row, move=move, why=why, **self._facts(row, move, values))
        return self.one(row, TyreShape)

    def _facts(self, row: Tyre, move: str, values: dict[str, Any]) -> dict[str, Any]:
        """Where the tyre is fitted; it leaves its machine with any other move."""
        if move != "fit":
            return {"machine": None, "machine_position": ""}
        if "machine" in values:
            machines = machine_list(user=self.user, site=self.site)
            values["machine"] = found(machines, pk=values["machine"])
        return values
