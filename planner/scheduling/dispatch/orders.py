"""Priority rules: the order in which jobs are put on the board."""

from collections.abc import Callable, Iterable
from random import Random

from planner.scheduling.dispatch.bay import Bay, BayJob

Rank = Callable[[BayJob], tuple[float, ...]]


def _length(job: BayJob) -> int:
    """The least slots that the job takes."""
    return sum(piece.length + piece.gap.least for piece in job.pieces)


def by_loss(job: BayJob) -> tuple[float, ...]:
    """What leaving it out costs for each slot of its work, dearest first."""
    return (-job.cost_left_out / _length(job), job.needed_by)


def by_need(job: BayJob) -> tuple[float, ...]:
    """When it is needed, soonest first."""
    return (job.needed_by, -job.priority)


def by_priority(job: BayJob) -> tuple[float, ...]:
    """Its priority, highest first, then when it is needed."""
    return (-job.priority, job.needed_by)


def by_slack(job: BayJob) -> tuple[float, ...]:
    """How late it can be begun, soonest first."""
    return (job.needed_by - _length(job) * 5, -job.priority)


def by_release(job: BayJob) -> tuple[float, ...]:
    """When it can be begun, then its priority for each slot of its work."""
    return (job.release, -job.priority / _length(job))


RULES: tuple[Rank, ...] = (by_loss, by_priority, by_need, by_slack, by_release)


def ordered(bay: Bay, rank: Rank) -> list[BayJob]:
    """All jobs by `rank`, locked work first, each after the jobs that have to come before it."""
    return in_sequence(bay, sorted(bay.jobs, key=lambda job: (not job.must, *rank(job), job.number)))


def shaken(order: list[BayJob], random: Random, strength: float) -> list[BayJob]:
    """The order with each job moved by a random distance of about `strength` of its length."""
    reach = strength * len(order)
    places = [(place + random.uniform(-reach, reach), place) for place in range(len(order))]
    return [order[place] for _, place in sorted(places)]


def in_sequence(bay: Bay, order: Iterable[BayJob]) -> list[BayJob]:
    """The order with each job moved behind those that have to come before it."""
    sequence: list[BayJob] = []
    seen: set[int] = set()
    for job in order:
        _append(bay, job, sequence, seen)
    return sequence


def _append(bay: Bay, job: BayJob, sequence: list[BayJob], seen: set[int]) -> None:
    if job.number in seen:
        return
    seen.add(job.number)
    for earlier in job.after:
        _append(bay, bay.jobs[earlier], sequence, seen)
    sequence.append(job)
