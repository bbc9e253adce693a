"""The odds of each tyre: how many replays of the plan had it ready in time, and by when."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.scheduling.replay.spread import Spreads
from planner.scheduling.replay.tally import JobTally, Tally, replays_tally


@dataclass(frozen=True, slots=True, kw_only=True)
class JobOdds:
    """What the replays say of one planned job.

    `in_time` is the share ready by `needed_by` [1]; `p50` and `p90` are ready times [min after the horizon's
    start], None where that many replays did not finish its work within the horizon; `unattended` is the share
    in which a cure, once started, outlasted those who could attend it [1]. `held` is the share in which a
    stage began after the shift in which it was planned [1], `held_at` the one that most often was the first.
    """

    job: str
    in_time: float
    p50: int | None
    p90: int | None
    unattended: float
    held: float = 0.0
    held_at: str = ""


def odds_for(
    problem: BayProblem,
    schedule: Schedule,
    *,
    spreads: Spreads | None = None,
    replays: int = 2000,
    seed: int = 0,
    stop: StopSignal | None = None,
) -> tuple[JobOdds, ...]:
    """Replay the plan `replays` times; the same seed gives the same odds, a stop those of fewer replays.

    Nobody plans anew in a replay, so the odds of a tyre late in the plan are what they are if nobody does.
    """
    numbers = range(replays)
    return odds_of(
        problem, replays_tally(problem, schedule, numbers=numbers, spreads=spreads, seed=seed, stop=stop)
    )


def odds_of(problem: BayProblem, tally: Tally) -> tuple[JobOdds, ...]:
    """The odds of every planned job, in the plan's order."""
    due = {job.id: job.needed_by for job in problem.jobs}
    count = max(1, tally.replays)
    return tuple(_odds_of(name, due[name], job, count) for name, job in tally.jobs.items())


def _odds_of(name: str, needed_by: int, job: JobTally, count: int) -> JobOdds:
    ends = sorted(job.ends)
    return JobOdds(
        job=name,
        in_time=sum(end <= needed_by for end in ends) / count,
        p50=_percentile(ends, 50, count),
        p90=_percentile(ends, 90, count),
        unattended=job.unattended / count,
        held=job.held.total() / count,
        # Of equals the first by name, whoever replayed which.
        held_at=min(job.held, key=lambda stage: (-job.held[stage], stage), default=""),
    )


def _percentile(ends: Sequence[int], percent: int, count: int) -> int | None:
    """The least end that `percent` of `count` replays were no later than (nearest rank)."""
    rank = -(-percent * count // 100)
    return ends[rank - 1] if 0 < rank <= len(ends) else None
