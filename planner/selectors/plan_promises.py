"""What the published plan promises for each work order, and why it promises nothing for some."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from planner.domain.plan import Reason
from planner.domain.sentences import Sentence
from planner.models import Plan
from planner.selectors.day_problem import NotEntered
from planner.selectors.plans import plan_content_get


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyPromise:
    """When a tyre is ready by the published plan; None with the reasons where it is left out."""

    ready_at: datetime | None
    minutes_late: int = 0
    reasons: tuple[Reason, ...] = ()


def order_code(job: str) -> str:
    """The work order of a job: a second injury of the same order is the job `WO-0001.2`."""
    return job.partition(".")[0]


def not_entered_map_get(*, plan: Plan | None) -> Mapping[str, Sentence]:
    """Why orders could not be planned at all, by their codes, as it stood when the plan was made."""
    rows = plan.not_entered if plan is not None else []
    return {each.work_order: each.reason for each in map(NotEntered.of, rows)}


def promise_map_get(*, plan: Plan | None) -> Mapping[str, ReadyPromise]:
    """The promises of a plan by the work orders' codes; empty where there is no plan.

    A tyre with several injuries is ready with the last, and left out where one of them is.
    """
    if plan is None:
        return {}
    content = plan_content_get(plan=plan)
    start = content.problem.origin.astimezone(UTC)
    needed = {job.id: job.needed_by for job in content.problem.jobs}
    promises: dict[str, ReadyPromise] = {}
    for job in sorted(content.plan.schedule.jobs, key=lambda planned: planned.end):
        promises[order_code(job.id)] = ReadyPromise(
            ready_at=start + timedelta(minutes=job.end), minutes_late=max(0, job.end - needed[job.id])
        )
    for left_out in content.plan.unplanned:
        promises[order_code(left_out.job)] = ReadyPromise(ready_at=None, reasons=left_out.reasons)
    return promises
