"""What the templates of the plan page need."""

from typing import Any

from django.utils.translation import gettext as _

from planner.domain.permissions import Action
from planner.web.here import Here
from planner.web.supervisor.paper_rows import paper_rows
from planner.web.supervisor.plan_lists import (
    late_rows,
    left_out_rows,
    move_rows,
    moves_told,
    not_entered_rows,
)
from planner.web.supervisor.plan_view import PlanView
from planner.web.timeline.items import LaneKind
from planner.web.timeline.legend import LEGEND
from planner.web.timeline.scale import Zoom


def lane_title(kind: LaneKind) -> str:
    """The heading over the lanes."""
    titles = {
        LaneKind.HEATER_SETS: _("Heater set"),
        LaneKind.POSITIONS: _("Position"),
        LaneKind.TECHNICIANS: _("Technician"),
    }
    return titles[kind]


def context_of(here: Here, view: PlanView) -> dict[str, Any]:
    """The plan, its timeline, its lists, and what the reader may do with it."""
    return {
        "view": view,
        "board": view.board,
        "legend": LEGEND,
        "lane_title": lane_title(view.wish.lanes),
        "grid_minutes": view.content.problem.grid_minutes,
        "left_out": left_out_rows(view),
        "not_entered": not_entered_rows(view),
        "late": late_rows(here, view),
        "paper_rows": paper_rows(here, view),
        "told": moves_told(move_rows(here, view)),
        "can_edit": view.is_draft and here.allows(Action.PLAN_BUILD),
        "can_publish": view.is_draft and here.allows(Action.PLAN_PUBLISH),
        "lane_kinds": [
            (LaneKind.HEATER_SETS, _("Sets")),
            (LaneKind.POSITIONS, _("Positions")),
            (LaneKind.TECHNICIANS, _("People")),
        ],
        "zooms": [(Zoom.SHIFT, _("Shift")), (Zoom.DAY, _("Day")), (Zoom.WEEK, _("Week"))],
    }
