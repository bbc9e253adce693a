"""The odds of a stored plan: those that a worker stored, else reckoned here and kept by its texts' digest."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.core.cache import cache

from planner.models import Plan, PlanReplay
from planner.scheduling.replay import odds_for
from planner.selectors.plan_promises import order_code
from planner.selectors.plans import plan_content_get

REPLAYS = 500
KEPT_SECONDS = 7 * 24 * 3600


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyOdds:
    """The odds of one job: shares [1], and when half and nine tenths of the replays had it ready.

    `held` is the share in which a stage began after its planned shift; `held_at` most often was the first.
    """

    job: str
    in_time: float
    unattended: float
    p50: datetime | None
    p90: datetime | None
    held: float = 0.0
    held_at: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanOdds:
    """The odds of every planned job, and of how many replays they are.

    `measured` names the stages whose spread comes from the site's own records; others are assumed.
    """

    replays: int
    jobs: tuple[ReadyOdds, ...]
    measured: tuple[str, ...] = ()


def plan_odds_stored_get(*, plan: Plan | None) -> PlanOdds | None:
    """The odds that a worker stored with the plan; None while there are none."""
    row = PlanReplay.objects.filter(plan=plan).first() if plan is not None else None
    if row is None:
        return None
    jobs = tuple(
        ReadyOdds(
            job=each.job,
            in_time=each.in_time,
            unattended=each.unattended,
            p50=each.p50_at,
            p90=each.p90_at,
            held=each.held,
            held_at=each.held_at,
        )
        for each in row.jobs.order_by("pk")
    )
    return PlanOdds(replays=row.replays, jobs=jobs, measured=tuple(row.measured))


def order_odds_map_get(*, plan: Plan | None) -> Mapping[str, ReadyOdds]:
    """The stored odds by the work orders' codes: those of the injury that is ready last."""
    odds = plan_odds_stored_get(plan=plan)
    found: dict[str, ReadyOdds] = {}
    for each in odds.jobs if odds else ():
        code = order_code(each.job)
        if code not in found or _later(each, found[code]):
            found[code] = each
    return found


def _later(one: ReadyOdds, other: ReadyOdds) -> bool:
    """Whether one is ready after the other; what is not ready in half of the replays is last."""
    if one.p50 is None or other.p50 is None:
        return one.p50 is None
    return one.p50 > other.p50


def plan_odds_get(*, plan: Plan) -> PlanOdds:
    """The stored odds, else fewer replays made now; a plan never changes, so neither do its odds."""
    stored = plan_odds_stored_get(plan=plan)
    if stored is not None:
        return stored
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
            job=each.job,
            in_time=each.in_time,
            unattended=each.unattended,
            p50=at(each.p50),
            p90=at(each.p90),
            held=each.held,
            held_at=each.held_at,
        )
        for each in odds
    )
    return PlanOdds(replays=REPLAYS, jobs=jobs)
