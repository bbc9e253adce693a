"""The jobs of the same tyre that come first are planned and over."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.view import PlanView


def after_check(view: PlanView) -> Iterator[Breach]:
    """Jobs that start before another one they must follow has ended, or without it."""
    for job in view.placed.values():
        for name in job.job.after:
            first = view.placed.get(name)
            if first is None:
                message = _("{id}: comes after {name}, which is not planned", id=job.job.id, name=name)
                yield Breach(rule="after", message=message, job=job.job.id)
            elif job.start < first.end:
                message = _(
                    "{id}: starts before {name} ends at {when:minute}",
                    id=job.job.id,
                    name=name,
                    when=view.when(first.end),
                )
                yield Breach(rule="after", message=message, job=job.job.id)
