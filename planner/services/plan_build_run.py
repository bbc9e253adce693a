"""The work of a plan build, from the site's rows to a verified draft; called by the worker."""

import hashlib
import logging

from django.db import transaction
from django.utils import timezone

from planner.domain.errors import UserError
from planner.domain.plan import BayPlan, PlanStatus
from planner.domain.sentences import _, joined, sentence_of
from planner.domain.states import PLAN_BUILD_STATES, PlanBuildState
from planner.models import Plan, PlanBuild
from planner.scheduling.dispatch import LockedWorkError
from planner.scheduling.problem_format import problem_write
from planner.selectors.day_problem import DayProblem, day_problem_get
from planner.selectors.plans import PlanContent, plan_content_get, plan_published_get
from planner.services.bay_plan import bay_plan_make
from planner.services.bay_plan_again import bay_plan_again
from planner.services.build_watch import BuildWatch
from planner.services.kept_locks import locks_by_hand_keep
from planner.services.plan_builds import plan_build_fail
from planner.services.plan_replays import plan_replay_ask
from planner.services.plans import plan_draft_save
from planner.solver.limits import SolveLimits

_log = logging.getLogger(__name__)
_WORKERS = 2


def plan_build_run(*, build_id: int) -> Plan | None:
    """Build the plan that was asked for; None where the build is not queued any more.

    Safe to run twice: only the first run takes the build up. A fault of the input ends the build with
    its message; any other fault ends it too, and is raised.
    """
    build = _taken_up(build_id)
    if build is None:
        return None
    try:
        return _built(build)
    except UserError as fault:
        plan_build_fail(build=build, message=sentence_of(fault))
        return None
    except Exception:
        _log.exception("plan build %s failed", build_id)
        plan_build_fail(build=build, message=_("The planner failed. The fault is in the server's log."))
        raise


def _taken_up(build_id: int) -> PlanBuild | None:
    """Count the build as running, unless somebody else did or it was cancelled."""
    now = timezone.now()
    queued = PlanBuild.objects.filter(pk=build_id, state=PlanBuildState.QUEUED)
    running = PLAN_BUILD_STATES.after(PlanBuildState.QUEUED, "run")
    if not queued.update(state=running, started_at=now, progress_at=now, phase="reading the site"):
        return None
    return PlanBuild.objects.select_related("site", "requested_by").get(pk=build_id)


def _built(build: PlanBuild) -> Plan | None:
    day = day_problem_get(
        user=build.requested_by, site=build.site, start=build.horizon_start, end=build.horizon_end
    )
    day = locks_by_hand_keep(user=build.requested_by, site=build.site, day=day)
    _weight_tell(build, day)
    raw = problem_write(day.problem)
    limits = SolveLimits(seconds=build.seconds, workers=_WORKERS, seed=build.seed)
    with BuildWatch(build.pk) as watch:
        sha256 = hashlib.sha256(raw).hexdigest()
        published = _published_to_keep(build)
        if published is None:
            plan = bay_plan_make(
                problem=day.problem, sha256=sha256, limits=limits, listener=watch.tell, stop=watch.stop
            )
        else:
            plan = bay_plan_again(
                problem=day.problem, sha256=sha256, published=published, stability=build.stability or 0,
                limits=limits, stop=watch.stop,
            )  # fmt: skip
    if plan.status is PlanStatus.INFEASIBLE:
        causes = dict.fromkeys(reason.message for left in plan.unplanned for reason in left.reasons)
        raise LockedWorkError(causes)
    return _kept(build, day, raw, plan)


def _published_to_keep(build: PlanBuild) -> PlanContent | None:
    """The published plan, where the build is to move as little of it as it can."""
    if build.stability is None:
        return None
    row = plan_published_get(user=build.requested_by, site=build.site)
    return plan_content_get(plan=row) if row else None


def _weight_tell(build: PlanBuild, day: DayProblem) -> None:
    """Store what the tyres weigh together, by which lateness becomes a time for each of them."""
    PlanBuild.objects.filter(pk=build.pk).update(weight=sum(job.priority for job in day.problem.jobs))


def _kept(build: PlanBuild, day: DayProblem, raw: bytes, plan: BayPlan) -> Plan | None:
    """Store the draft and end the build in one step; nothing where the build was ended meanwhile."""
    with transaction.atomic():
        row = PlanBuild.objects.select_for_update().get(pk=build.pk)
        if not PLAN_BUILD_STATES.allows(row.state, "finish"):
            return None
        stored = plan_draft_save(
            user=build.requested_by, site=build.site, day=day, problem_raw=raw, plan=plan, build=row
        )
        row.state, row.ended_at = PLAN_BUILD_STATES.after(row.state, "finish"), timezone.now()
        row.lateness, row.flow, row.bound = plan.score.lateness, plan.score.flow, plan.bound
        row.message = joined(day.warnings, "lines")
        row.save(update_fields=["state", "ended_at", "lateness", "flow", "bound", "message"])
        plan_replay_ask(user=build.requested_by, plan=stored)
    return stored
