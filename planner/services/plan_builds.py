"""Asking for a plan, cancelling it, and clearing up after a worker that died."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from celery import current_app
from django.db import transaction
from django.utils import timezone

from planner.domain.errors import ConflictError
from planner.domain.permissions import Action
from planner.domain.sentences import Sentence, _
from planner.domain.states import PLAN_BUILD_STATES, PlanBuildState
from planner.models import PlanBuild, Site, User
from planner.selectors.access import require_on_site
from planner.selectors.plan_builds import plan_build_open_get
from planner.services.audit import audit_event_add
from planner.services.rows import row_add

BUILD_TASK = "planner.tasks.build_plan"
SILENT_AFTER = timedelta(minutes=2)
UNTAKEN_AFTER = timedelta(minutes=15)


def plan_build_start(
    *,
    user: User,
    site: Site,
    start: datetime,
    end: datetime,
    seconds: int = 30,
    seed: int = 0,
    stability: int | None = None,
) -> PlanBuild:
    """Ask for a plan of the site from `start` to `end`; a worker builds it for at most `seconds`.

    With a `stability` (0 to 100) it keeps what it can of the published plan: each minute that a stage moves
    costs so many hundredths of a late minute.

    Raises ConflictError, saying who asked, while another build of the site is queued or running.
    """
    require_on_site(user=user, site=site, action=Action.PLAN_BUILD)
    plan_build_reap(site=site)
    with transaction.atomic():
        Site.objects.select_for_update().get(pk=site.pk)
        other = plan_build_open_get(user=user, site=site)
        if other is not None:
            raise ConflictError(
                _(
                    "{requested_by} has a plan in the making for {site}: wait for it, or cancel it",
                    requested_by=other.requested_by,
                    site=site,
                )
            )
        build = PlanBuild(
            site=site,
            requested_by=user,
            requested_at=timezone.now(),
            horizon_start=_on_grid(start, site),
            horizon_end=end,
            seconds=seconds,
            seed=seed,
            stability=stability,
        )
        row_add(user=user, site=site, row=build, action="plan_build_start")
        transaction.on_commit(lambda: current_app.send_task(BUILD_TASK, args=[build.pk]), robust=True)
    return build


def _on_grid(at: datetime, site: Site) -> datetime:
    """The first time at or after `at` that is whole grid steps after the site's midnight.

    From any other start the grid would miss the wall clock's quarters: each shift would shrink and each break
    grow by a step, and two breaks that follow one another would leave a cure alone.
    """
    local = at.astimezone(ZoneInfo(site.time_zone))
    midnight = local.replace(hour=0, minute=0, second=0, microsecond=0)
    step = timedelta(minutes=site.grid_minutes)
    late = (local - midnight) % step
    return at + (step - late) if late else at


def plan_build_cancel(*, user: User, build: PlanBuild, why: str = "") -> None:
    """Stop a build: a queued one ends at once, a running one ends with its best plan so far."""
    require_on_site(user=user, site=build.site, action=Action.PLAN_BUILD)
    with transaction.atomic():
        row = PlanBuild.objects.select_for_update().select_related("site").get(pk=build.pk)
        after = PLAN_BUILD_STATES.after(row.state, "cancel")
        row.cancel_requested = True
        if row.state == PlanBuildState.QUEUED:
            row.state, row.ended_at = after, timezone.now()
        row.save(update_fields=["cancel_requested", "state", "ended_at"])
        audit_event_add(
            site=row.site, user=user, action="plan_build_cancel", row=row, what=f"cancelled {row}", why=why
        )


def plan_build_reap(*, site: Site | None = None, silent_for: timedelta = SILENT_AFTER) -> int:
    """End builds whose worker has said nothing for `silent_for`, or that no worker took up; how many.

    A worker killed in the middle leaves its row behind: call it with no time at all (`timedelta(0)`)
    where a start of the only worker shows that nothing can be running.
    """
    now = timezone.now()
    builds = PlanBuild.objects.select_related("site")
    if site is not None:
        builds = builds.filter(site=site)
    died = builds.filter(state=PlanBuildState.RUNNING, progress_at__lte=now - silent_for)
    untaken = builds.filter(state=PlanBuildState.QUEUED, requested_at__lte=now - UNTAKEN_AFTER)
    reaped = [plan_build_fail(build=build, message=_DIED) for build in died]
    reaped += [plan_build_fail(build=build, message=_UNTAKEN) for build in untaken]
    return sum(reaped)


def plan_build_fail(*, build: PlanBuild, message: Sentence) -> bool:
    """End a build as failed with a message for the user; False where it had ended already."""
    with transaction.atomic():
        row = PlanBuild.objects.select_for_update().select_related("site").get(pk=build.pk)
        if not PLAN_BUILD_STATES.allows(row.state, "fail"):
            return False
        row.state, row.message = PLAN_BUILD_STATES.after(row.state, "fail"), message
        row.ended_at = timezone.now()
        row.save(update_fields=["state", "message", "ended_at"])
        audit_event_add(
            site=row.site, user=None, action="plan_build_fail", row=row, what=f"failed {row}", why=message
        )
    return True


_DIED = _("The worker stopped in the middle. Nothing was lost: build the plan again.")
_UNTAKEN = _("No worker took it up. See that a worker is running, and build the plan again.")
