"""Replaying a stored plan for its odds, beside the page: each worker a part, the last puts them together."""

from collections import Counter
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

from django.db import transaction
from django.utils import timezone

from planner.domain.problem import BayProblem
from planner.domain.states import PlanState
from planner.models import Plan, PlanReplay, PlanReplayPart, ReplayedJob, Site
from planner.scheduling.replay import JobTally, Spread, Tally, odds_of, replays_tally
from planner.selectors.plans import PlanContent, plan_content_get
from planner.selectors.stage_spreads import stage_spreads_get

REPLAYS = 2000
_SEED = 0


def plan_replay_run(
    *, plan_id: int, part: int = 0, parts: int = 1, replays: int = REPLAYS
) -> PlanReplay | None:
    """Do one of `parts` of the plan's replays; safe to run twice.

    The run that finds all parts done stores the odds and gives them back; None from any other, and where
    the plan was put away or has its odds.
    """
    plan = Plan.objects.filter(pk=plan_id).exclude(state=PlanState.DROPPED).select_related("site").first()
    if plan is None or PlanReplay.objects.filter(plan=plan).exists():
        return None
    content = plan_content_get(plan=plan)
    if not plan.replay_parts.filter(part=part).exists():
        _replay(plan, content, part, range(part, replays, parts))
    with transaction.atomic():
        # Of two that end at the same time the second sees the part of the first. The site and not the plan:
        # who publishes or drops a plan locks the site before it.
        Site.objects.select_for_update().get(pk=plan.site_id)
        done = list(plan.replay_parts.all())
        if len(done) < parts or PlanReplay.objects.filter(plan=plan).exists():
            return None
        row = _together(plan, content, done)
        plan.replay_parts.all().delete()
    return row


def _replay(plan: Plan, content: PlanContent, part: int, numbers: range) -> None:
    spreads = _by_stage(content.problem, stage_spreads_get(site=plan.site))
    schedule = content.plan.schedule
    tally = replays_tally(content.problem, schedule, numbers=numbers, spreads=spreads, seed=_SEED)
    PlanReplayPart.objects.get_or_create(
        plan=plan,
        part=part,
        defaults={
            "site": plan.site,
            "replays": tally.replays,
            "jobs": {job: [one.ends, one.held, one.unattended] for job, one in tally.jobs.items()},
            "measured": sorted({stage for _, stage in spreads}),
            "replayed_at": timezone.now(),
        },
    )


def _by_stage(problem: BayProblem, own: Mapping[str, Spread]) -> dict[tuple[str, str], Spread]:
    stages = ((job.id, stage.name) for job in problem.jobs for stage in job.stages)
    return {(job, name): own[name] for job, name in stages if name in own}


def _together(plan: Plan, content: PlanContent, parts: list[PlanReplayPart]) -> PlanReplay:
    """The odds from all parts, stored."""
    tally = Tally({job.id: JobTally() for job in content.plan.schedule.jobs})
    for part in parts:
        jobs = {
            job: JobTally(ends=ends, held=Counter(held), unattended=unattended)
            for job, (ends, held, unattended) in part.jobs.items()
        }
        tally.add(Tally(jobs, part.replays))
    measured = sorted({stage for part in parts for stage in part.measured})
    row = PlanReplay.objects.create(
        site=plan.site, plan=plan, replays=tally.replays, measured=measured, replayed_at=timezone.now()
    )
    start = content.problem.origin.astimezone(UTC)

    def at(minute: int | None) -> datetime | None:
        return None if minute is None else start + timedelta(minutes=minute)

    ReplayedJob.objects.bulk_create(
        ReplayedJob(
            site=plan.site, replay=row, job=each.job, in_time=each.in_time, unattended=each.unattended,
            held=each.held, held_at=each.held_at, p50_at=at(each.p50), p90_at=at(each.p90),
        )
        for each in odds_of(content.problem, tally)
    )  # fmt: skip
    return row
