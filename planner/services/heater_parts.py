"""Taking a heater set's part out of use and putting it back."""

from datetime import date
from functools import partial
from typing import Any

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import PART_STATES
from planner.models import HeaterSetPart, User
from planner.selectors.access import require_on_site
from planner.services.plan_guard import plan_guarded
from planner.services.rows import row_change


def part_move(
    *, user: User, part: HeaterSetPart, move: str, why: str, inspection_due_on: date | None = None
) -> None:
    """Take a part out, put it back, scrap or replace it; a set with a part out is out.

    A part put back or replaced was inspected: `inspection_due_on` is its next date, where one is kept.
    What broke is broken, so nothing is asked first; where the published plan no longer holds, the
    supervisors are told.
    """
    require_on_site(user=user, site=part.site, action=Action.PART_STATE_CHANGE)
    if not why.strip():
        raise InvalidValueError(_("say why: the reason stays on record"))
    values: dict[str, Any] = {"state": PART_STATES.after(part.state, move), "note": why[:200]}
    if move in ("put_back", "replace") and inspection_due_on is not None:
        values["inspection_due_on"] = inspection_due_on
    plan_guarded(
        user=user, site=part.site, accepted=True,
        change=partial(
            row_change,
            user=user, site=part.site, row=part, values=values, action=f"part_{move}", why=why,
        ),
    )  # fmt: skip
