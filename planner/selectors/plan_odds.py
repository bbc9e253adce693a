"""The odds of a stored plan, once workers have replayed it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from planner.models import Plan, PlanReplay
from planner.selectors.plan_promises import order_code


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


def plan_odds_get(*, plan: Plan | None) -> PlanOdds | None:
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
    odds = plan_odds_get(plan=plan)
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
