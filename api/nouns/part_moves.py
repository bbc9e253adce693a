"""Moves of a heater set's part: out, back, scrapped, replaced."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.nouns.shapes import noun_shape
from planner.domain.permissions import Action
from planner.selectors.kept_nouns import heater_set_part_get
from planner.services.heater_parts import part_move

PartShape = noun_shape("heatersetpart")


class PartMove(serializers.Serializer[Any]):
    """A move with its reason; a part put back was inspected, and is due again on a day."""

    move = serializers.ChoiceField(choices=("take_out", "put_back", "scrap", "replace"))
    why = serializers.CharField(max_length=200)
    inspection_due_on = serializers.DateField(required=False)


class PartMoves(SiteView):
    """Moves of one part."""

    actions = {"POST": Action.PART_STATE_CHANGE}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="heater_set_part_move", request=PartMove, responses=PartShape)
    def post(self, request: Request, site: str, row: int) -> Response:
        """Take a part out, put it back, scrap or replace it; a set with a part out is out."""
        part = heater_set_part_get(user=self.user, site=self.site, part_id=row)
        self.refuse_unmatched(part, PartShape)
        part_move(user=self.user, part=part, **self.sent(PartMove))
        return self.one(part, PartShape)
