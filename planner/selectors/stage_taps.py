"""Reading the last tap of each injury, and whether somebody may take it back."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Q

from planner.domain.permissions import Action, Role, may
from planner.domain.sentences import _
from planner.domain.states import StageRunState, WorkOrderState
from planner.domain.taking_back import OWN_TAP_MINUTES, StageTap, own_tap_is_fresh
from planner.models import AuditEvent, Plan, Site, StageRun, TapTakenBack, User, WorkOrder
from planner.selectors.access import require_on_site, role_get

_EVENTS = {StageTap.START: "stage_run_start", StageTap.END: "stage_run_finish"}
_LISTED = timedelta(hours=12)
_TAKEN_FROM = (WorkOrderState.IN_HAND, WorkOrderState.REPAIRED)


@dataclass(frozen=True, slots=True, kw_only=True)
class LastTap:
    """The newest tap of an injury: what it told, when it went on record, and who had tapped it."""

    run: StageRun
    tap: StageTap
    recorded_at: datetime
    by: User | None

    @property
    def tapped_at(self) -> datetime:
        """When the stage was said to begin, or to be over."""
        return self.run.ended_at or self.run.started_at


def last_tap_list(*, user: User, site: Site, now: datetime) -> list[LastTap]:
    """The last tap of each injury that the user may take back now, the newest first."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    since = now - _LISTED
    touched = StageRun.objects.filter(Q(started_at__gte=since) | Q(ended_at__gte=since), site=site)
    runs = StageRun.objects.filter(
        damage__in=touched.values("damage"), work_order__state__in=_TAKEN_FROM
    ).select_related("work_order__tyre", "damage")
    newest = {run.damage_id: run for run in runs.order_by("sequence")}
    role, holds_since = role_get(user=user, site=site), _plan_holds_since(site)
    taps = taps_of(site=site, runs=newest.values())
    found = [tap for tap in taps if not take_back_refusal(user, role, tap, holds_since, now)]
    return sorted(found, key=lambda tap: tap.recorded_at, reverse=True)


def taps_of(*, site: Site, runs: Collection[StageRun]) -> list[LastTap]:
    """The newest tap of each of the runs, as the audit trail has it."""
    events = _events(site, runs)
    taps = []
    for run in runs:
        tap = StageTap.START if run.state == StageRunState.RUNNING else StageTap.END
        event = events.get((str(run.pk), _EVENTS[tap]))
        if event is not None:
            taps.append(LastTap(run=run, tap=tap, recorded_at=event.at, by=event.user))
    return taps


def take_back_refusal(
    user: User, role: Role | None, tap: LastTap, holds_since: datetime | None, now: datetime
) -> str:
    """Why the user may not take the tap back at `now`; empty where they may."""
    if may(role, Action.OTHERS_TAP_TAKE_BACK):
        return ""
    if tap.by != user:
        return _("{by} tapped it: they or a supervisor may take it back", by=tap.by or "somebody else")
    if not own_tap_is_fresh(now - tap.recorded_at):
        return _(
            "it was tapped more than {own_tap_minutes} min ago: a supervisor may take it back",
            own_tap_minutes=OWN_TAP_MINUTES,
        )
    if holds_since is not None and holds_since > tap.recorded_at:
        return _("a plan was published since that counts on it: a supervisor may take it back and plan again")
    return ""


def take_back_refusal_get(*, user: User, site: Site, tap: LastTap, now: datetime) -> str:
    """The same, looked up."""
    return take_back_refusal(user, role_get(user=user, site=site), tap, _plan_holds_since(site), now)


def tap_taken_back_list(*, user: User, site: Site, work_order: WorkOrder | None = None) -> list[TapTakenBack]:
    """Every tap that was taken back, of one order or of all, first to last."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    rows = TapTakenBack.objects.filter(site=site).select_related("work_order", "tapped_by", "taken_back_by")
    return list(rows if work_order is None else rows.filter(work_order=work_order))


def _plan_holds_since(site: Site) -> datetime | None:
    return Plan.objects.filter(site=site, state="published").values_list("published_at", flat=True).first()


def _events(site: Site, runs: Collection[StageRun]) -> Mapping[tuple[str, str], AuditEvent]:
    """The newest event of each kind for each run."""
    keys = [str(run.pk) for run in runs]
    rows = AuditEvent.objects.filter(
        site=site, noun="stagerun", noun_id__in=keys, action__in=_EVENTS.values()
    ).select_related("user")
    return {(row.noun_id, row.action): row for row in rows.order_by("sequence")}
