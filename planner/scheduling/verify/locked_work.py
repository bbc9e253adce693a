"""The rules that locked work breaks by itself, whatever is planned around it."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from planner.domain.breach import Breach
from planner.domain.plan import PlannedJob, Schedule
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.domain.work import Job
from planner.scheduling.verify.rules import RULES
from planner.scheduling.verify.view import PlanView

WHAT_OTHERS_OWE = frozenset({"watch", "attendant", "attendant_load", "attendant_work", "handover"})
"""Rules of the watch, which is not locked: the planner finds it or says that it cannot."""


def locked_verify(problem: BayProblem) -> tuple[Breach, ...]:
    """What locked stages break among themselves: each unbroken run of them is looked at as a job."""
    runs = [run for locked in problem.locked for run in _runs(problem, locked)]
    alone = replace(
        problem, jobs=tuple(job for job, _stages in runs), locked=tuple(planned for _job, planned in runs)
    )
    view = PlanView.of(alone, Schedule(jobs=alone.locked, watch=()))
    checks = [check for stem, check in RULES.items() if stem not in WHAT_OTHERS_OWE]
    return tuple(breach for check in checks for breach in check(view))


def _runs(problem: BayProblem, locked: PlannedJob) -> Iterator[tuple[Job, PlannedJob]]:
    job = next(job for job in problem.jobs if job.id == locked.id)
    planned = {stage.name: stage for stage in locked.stages}
    stretches = groupby(job.stages, key=lambda stage: stage.name in planned)
    runs = [tuple(stages) for is_locked, stages in stretches if is_locked]
    for number, stages in enumerate(runs):
        name = _("{job} from {stage} on", job=job.id, stage=stages[0].name) if number else job.id
        yield (
            replace(job, id=name, stages=stages, after=()),
            PlannedJob(id=name, stages=tuple(planned[stage.name] for stage in stages)),
        )
