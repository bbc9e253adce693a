"""A planned job has every stage once, in order."""

from collections.abc import Iterator
from itertools import pairwise

from planner.domain.breach import Breach
from planner.scheduling.verify.view import PlanView


def stages_check(view: PlanView) -> Iterator[Breach]:
    """Unknown jobs, jobs planned twice, stages missing, added, doubled or out of order."""
    seen: set[str] = set()
    for planned in view.schedule.jobs:
        job = view.jobs.get(planned.id)
        names = [stage.name for stage in planned.stages]
        if job is None:
            yield Breach(rule="stages", message=f"{planned.id}: there is no such job", job=planned.id)
        elif planned.id in seen:
            yield Breach(rule="stages", message=f"{planned.id}: planned more than once", job=planned.id)
        elif names != [stage.name for stage in job.stages]:
            asked = ", ".join(stage.name for stage in job.stages)
            message = f"{planned.id}: has the stages {', '.join(names)}; the job asks for {asked}"
            yield Breach(rule="stages", message=message, job=planned.id)
        seen.add(planned.id)
    yield from _order(view)


def _order(view: PlanView) -> Iterator[Breach]:
    for job in view.placed.values():
        for one, two in pairwise(job.stages):
            if two.planned.start < one.planned.end:
                yield two.breach("stages", f"starts before {one.stage.name} ends")
