"""Taking back a tap of the floor that was a slip: what stood on record stays in a row of its own."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from planner.domain.errors import ChangedMeanwhileError, ConflictError, InvalidValueError, NotAllowedError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import STAGE_RUN_STATES, WorkOrderState
from planner.domain.taking_back import StageTap
from planner.models import CostRepair, Damage, StageRun, TapTakenBack, User
from planner.selectors.access import require_on_site
from planner.selectors.floor_work import hot_tyres_of
from planner.selectors.stage_taps import LastTap, take_back_refusal_get, taps_of
from planner.services.rows import row_add, row_change, row_remove
from planner.services.stage_runs import things_in_use_refuse
from planner.services.tyre_watches import watch_end_unneeded
from planner.services.work_orders import work_order_state_set


def stage_tap_take_back(
    *,
    user: User,
    run: StageRun,
    tap: StageTap,
    at: datetime | None = None,
    set_is_safe: bool = False,
    why: str = "",
) -> TapTakenBack:
    """Take back the last tap of a run's injury: its stage did not begin, or is not over.

    Whoever tapped may within half an hour, while the plan of then still holds; a supervisor may until the
    next stage begins. A start on a heater set needs somebody who saw that the set is off and its bags empty,
    for the tyre no longer counts as hot afterwards.

    Raises:
        NotAllowedError: the user may not, with who may.
        InvalidValueError: nobody said that the set is safe.
        ConflictError: it is not the injury's last tap, or something on record rests on it.

    """
    require_on_site(user=user, site=run.site, action=Action.WORK_RECORD)
    now = at or timezone.now()
    with transaction.atomic():
        last = _last_tap(run, tap)
        if refusal := take_back_refusal_get(user=user, site=run.site, tap=last, now=now):
            raise NotAllowedError(refusal)
        _refuse_built_on(last)
        if tap is StageTap.START and last.run.heater_set_id and not set_is_safe:
            raise InvalidValueError(
                _("look first: a start is taken back only where the set is off and empty")
            )
        row = _row(user, last, at=now, set_is_safe=set_is_safe, why=why)
        row_add(user=user, site=run.site, row=row, action="stage_tap_take_back", why=why)
        if tap is StageTap.START:
            _start_taken_back(user, last.run, now)
        else:
            _end_taken_back(user, last.run)
    return row


def _last_tap(run: StageRun, tap: StageTap) -> LastTap:
    """The injury's last tap, locked; refused where it is another than the one that is taken back."""
    Damage.objects.select_for_update().get(pk=run.damage_id)
    newest = StageRun.objects.filter(damage=run.damage_id).select_related("work_order").last()
    if newest is None or newest.pk != run.pk:
        raise ConflictError(
            _("{name} is not the last that was tapped of this tyre: load the page again", name=run.name)
        )
    if newest.version != run.version:
        raise ChangedMeanwhileError(
            _("{run} was changed by somebody else in the meantime: load it again", run=run)
        )
    last = next(iter(taps_of(site=run.site, runs=[newest])), None)
    if last is None or last.tap is not tap:
        raise ConflictError(
            _("the {tap} of {run} is not the last that was tapped: load the page again", tap=tap, run=run)
        )
    return last


def _refuse_built_on(last: LastTap) -> None:
    """What somebody signed, judged or booked is never pulled from under them."""
    order, held = last.run.work_order, ""
    if order.state not in (WorkOrderState.IN_HAND, WorkOrderState.REPAIRED):
        held = _("the order is {state}", state=order.get_state_display())
    elif order.record_versions.exists():
        held = _("the repair record is signed")
    elif order.inspections.exists():
        held = _("the repair was inspected")
    elif CostRepair.objects.filter(work_order=order, month__isnull=False).exists():
        held = _("its cost is booked")
    elif last.run.heater_set_id and last.run.damage.logged_cures.exists():
        held = _("its cure was judged")
    if held:
        raise ConflictError(_("the {tap} of {run} stays: {held}", tap=last.tap, run=last.run, held=held))


def _row(user: User, last: LastTap, *, at: datetime, set_is_safe: bool, why: str) -> TapTakenBack:
    return TapTakenBack(
        site=last.run.site,
        work_order=last.run.work_order,
        damage=last.run.damage,
        stage=last.run.name,
        tap=last.tap,
        tapped_at=last.tapped_at,
        tapped_by=last.by,
        taken_back_at=at,
        taken_back_by=user,
        set_is_safe=set_is_safe,
        why=why.strip(),
    )


def _start_taken_back(user: User, run: StageRun, at: datetime) -> None:
    """The run goes; what was read or weighed at it holds it. The first one gives the order back."""
    damage, order = run.damage, run.work_order
    row_remove(user=user, site=run.site, row=run, action="stage_run_take_back", why="tapped by mistake")
    if not order.stage_runs.exists():
        work_order_state_set(
            user=user, work_order=order, move="take_back_start", why="its start was tapped by mistake"
        )
    if damage.pk not in {hot.damage for hot in hot_tyres_of(site=order.site)}:
        watch_end_unneeded(user=user, damage=damage, at=at)


def _end_taken_back(user: User, run: StageRun) -> None:
    """The run goes on, where nothing else took its place or set meanwhile."""
    things_in_use_refuse(damage=run.damage, position=run.position, heater_set=run.heater_set)
    values = {"state": STAGE_RUN_STATES.after(run.state, "take_back_end"), "ended_at": None}
    why = "its end was tapped by mistake"
    row_change(user=user, site=run.site, row=run, values=values, action="stage_run_take_back", why=why)
    if run.work_order.state == WorkOrderState.REPAIRED:
        work_order_state_set(user=user, work_order=run.work_order, move="take_back_end", why=why)
