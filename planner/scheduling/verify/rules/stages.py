"""A planned job has every stage once, in order."""

from collections.abc import Iterator
from itertools import pairwise

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.view import PlanView


def stages_check(view: PlanView) -> Iterator[Breach]:
    """Unknown jobs, jobs planned twice, stages missing, added, doubled or out of order."""
    seen: set[str] = set()
    for planned in view.schedule.jobs:
        job = view.jobs.get(planned.id)
        names = [stage.name for stage in planned.stages]
        if job is None:
            yield Breach(
                rule="stages", message=_("{id}: there is no such job", id=planned.id), job=planned.id
            )
        elif planned.id in seen:
            yield Breach(
                rule="stages", message=_("{id}: planned more than once", id=planned.id), job=planned.id
            )
        elif names != [stage.name for stage in job.stages]:
            asked = tuple(stage.name for stage in job.stages)
            message = _(
                "{id}: has the stages {names}; the job asks for {asked}",
                id=planned.id,
                names=tuple(names),
                asked=asked,
            )
            yield Breach(rule="stages", message=message, job=planned.id)
        seen.add(planned.id)
    yield from _order(view)


def _order(view: PlanView) -> Iterator[Breach]:
    for job in view.placed.values():
        for one, two in pairwise(job.stages):
            if two.planned.start < one.planned.end:
                yield two.breach("stages", _("starts before {name} ends", name=one.stage.name))
