"""The odds of a stored plan: a pure function of its texts, so they are kept in the cache by their digest."""

import hashlib
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.core.cache import cache

from planner.models import Plan
from planner.scheduling.replay import odds_for
from planner.selectors.plans import plan_content_get

REPLAYS = 500
KEPT_SECONDS = 7 * 24 * 3600


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyOdds:
    """The odds of one job: shares [1], and when half and nine tenths of the replays had it ready."""

    job: str
    in_time: float
    unattended: float
    p50: datetime | None
    p90: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanOdds:
    """The odds of every planned job, and of how many replays they are."""

    replays: int
    jobs: tuple[ReadyOdds, ...]


def plan_odds_get(*, plan: Plan) -> PlanOdds:
    """Replay the plan with durations that scatter; a plan never changes, so neither do its odds."""
    digest = hashlib.sha256(f"{plan.problem_json}\n{plan.plan_json}".encode()).hexdigest()
    key = f"plan-odds:{REPLAYS}:{digest}"
    kept: PlanOdds | None = cache.get(key)
    if kept is None:
        kept = _replayed(plan)
        cache.set(key, kept, KEPT_SECONDS)
    return kept


def _replayed(plan: Plan) -> PlanOdds:
    content = plan_content_get(plan=plan)
    start = content.problem.origin.astimezone(UTC)

    def at(minute: int | None) -> datetime | None:
        return None if minute is None else start + timedelta(minutes=minute)

    odds = odds_for(content.problem, content.plan.schedule, replays=REPLAYS)
    jobs = tuple(
        ReadyOdds(
            job=each.job, in_time=each.in_time, unattended=each.unattended, p50=at(each.p50), p90=at(each.p90)
        )
        for each in odds
    )
    return PlanOdds(replays=REPLAYS, jobs=jobs)
