"""Recording what is really done: the start, the end or the stop of a stage."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.size_reading import size_read
from planner.domain.states import STAGE_RUN_STATES, StageRunState, WorkOrderState
from planner.models import (
    Damage,
    HeaterSet,
    Position,
    Route,
    RouteStage,
    Site,
    StageRun,
    Technician,
    User,
    WorkOrder,
)
from planner.selectors.access import require_on_site
from planner.selectors.plans import plan_published_get
from planner.selectors.routes import route_get
from planner.services.accounts.approvals import unapproved_refuse
from planner.services.rows import row_add, row_change
from planner.services.work_orders import work_order_state_set


def stage_run_start(
    *,
    user: User,
    damage: Damage,
    stage_name: str,
    technicians: Sequence[Technician] = (),
    position: Position | None = None,
    heater_set: HeaterSet | None = None,
    started_at: datetime | None = None,
    note: str = "",
) -> StageRun:
    """Record that a stage of an injury's repair begins; the first one takes the order in hand.

    Raises InvalidValueError where the stage is not the next one, or its people, position or set are
    missing; ConflictError where the stage was begun already, the position or the set is in use, or the
    spend on the repair is not approved.
    """
    order = _order(damage)
    require_on_site(user=user, site=damage.site, action=Action.WORK_RECORD)
    stage = _next_stage(damage, stage_name)
    _refuse_missing(stage, technicians, position, heater_set)
    with transaction.atomic():
        # Another tyre may be put on the same place at this very moment.
        Site.objects.select_for_update().get(pk=damage.site_id)
        things_in_use_refuse(
            damage=damage,
            position=position if stage.place_id else None,
            heater_set=heater_set if stage.block else None,
        )
        if order.state != WorkOrderState.IN_HAND:
            unapproved_refuse(user=user, work_order=order)
            work_order_state_set(user=user, work_order=order, move="start", why=f"{stage_name} begun")
        run = StageRun(
            site=damage.site,
            work_order=order,
            damage=damage,
            sequence=stage.sequence,
            name=stage.name,
            plan=plan_published_get(user=user, site=damage.site),
            position=position,
            heater_set=heater_set,
            started_at=started_at or timezone.now(),
            note=note,
        )
        row_add(user=user, site=damage.site, row=run, action="stage_run_start", why=note)
        run.technicians.set(technicians)
    return run


def stage_run_finish(
    *, user: User, run: StageRun, ended_at: datetime | None = None, note: str = ""
) -> StageRun:
    """Record that a stage is over; after the last stage of the last injury the order is repaired."""
    require_on_site(user=user, site=run.site, action=Action.WORK_RECORD)
    values = {
        "state": STAGE_RUN_STATES.after(run.state, "finish"),
        "ended_at": ended_at or timezone.now(),
        "note": note or run.note,
    }
    with transaction.atomic():
        row_change(user=user, site=run.site, row=run, values=values, action="stage_run_finish", why=note)
        if all(not _stages_left(damage) for damage in run.work_order.damages.all()):
            work_order_state_set(user=user, work_order=run.work_order, move="complete", why="last stage over")
    return run


def things_in_use_refuse(*, damage: Damage, position: Position | None, heater_set: HeaterSet | None) -> None:
    """Raise ConflictError where another tyre's stage goes on at the position or on the set."""
    running = StageRun.objects.filter(site=damage.site, state=StageRunState.RUNNING).exclude(damage=damage)
    for thing, found in (
        (position, running.filter(position=position)),
        (heater_set, running.filter(heater_set=heater_set)),
    ):
        other = found.select_related("work_order").first() if thing is not None else None
        if other is not None:
            raise ConflictError(
                _(
                    "{resource} is in use by {work_order} ({name})",
                    resource=thing,
                    work_order=other.work_order,
                    name=other.name,
                )
            )


def _order(damage: Damage) -> WorkOrder:
    if damage.work_order is None:
        raise InvalidValueError(
            _("{damage} of {tyre} has no work order yet", damage=damage, tyre=damage.tyre)
        )
    return damage.work_order


def _route(damage: Damage) -> Route:
    return _order(damage).route or route_get(
        site=damage.site, size=size_read(damage.tyre.size).size, zone=damage.zone
    )


def _stages_left(damage: Damage) -> list[RouteStage]:
    """The stages of the injury's route that are not on record as over."""
    over = damage.stage_runs.exclude(state=StageRunState.RUNNING).values_list("sequence", flat=True)
    return list(_route(damage).stages.exclude(sequence__in=list(over)))


def _next_stage(damage: Damage, stage_name: str) -> RouteStage:
    left = _stages_left(damage)
    if not left or left[0].name != stage_name:
        following = left[0].name if left else "none"
        raise InvalidValueError(
            _(
                "{stage_name} is not the next stage of this repair (next: {following})",
                stage_name=stage_name,
                following=following,
            )
        )
    if damage.stage_runs.filter(sequence=left[0].sequence).exists():
        raise ConflictError(_("{stage_name} was begun already", stage_name=stage_name))
    return left[0]


def _refuse_missing(
    stage: RouteStage,
    technicians: Sequence[Technician],
    position: Position | None,
    heater_set: HeaterSet | None,
) -> None:
    if len(technicians) < stage.crew:
        raise InvalidValueError(
            _("{name} needs a crew of {crew}: name them", name=stage.name, crew=stage.crew)
        )
    if stage.place_id and position is None:
        raise InvalidValueError(_("{name} needs a position: say which", name=stage.name))
    if stage.block and heater_set is None:
        raise InvalidValueError(_("{name} needs a heater set: say which", name=stage.name))
