"""Every watched minute from the horizon's start on has exactly one attendant."""

from collections import defaultdict
from collections.abc import Iterator

from planner.domain.bay_time import Span
from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.attendance import attendance_of, needed_by
from planner.scheduling.verify.stretches import Stretches, clashes, length, merged, missing, shared
from planner.scheduling.verify.view import PlanView


def watch_check(view: PlanView) -> Iterator[Breach]:
    """Minutes with nobody, or with more than one attendant, at a hot tyre."""
    by_job: dict[str, list[tuple[Span, str]]] = defaultdict(list)
    for (technician, job), stretches in attendance_of(view).items():
        by_job[job].extend((span, technician) for span in stretches)
    for name, placed in view.placed.items():
        yield from _job(view, name, needed_by(view, placed), by_job[name])
    for unknown in sorted(by_job.keys() - view.jobs.keys()):
        yield Breach(
            rule="watch", message=_("{unknown}: there is no such job to attend", unknown=unknown), job=unknown
        )


def _job(view: PlanView, job: str, needed: Stretches, given: list[tuple[Span, str]]) -> Iterator[Breach]:
    alone = missing(needed, merged(span for span, _who in given))
    if alone:
        message = _(
            "{job}: unattended for {length} min from {when:minute}",
            job=job,
            length=length(alone),
            when=view.when(alone[0].start),
        )
        yield Breach(rule="watch", message=message, job=job)
    inside = [(part, name) for span, name in given for part in shared((span,), needed)]
    for (_before, one), (span, two) in clashes(inside):
        message = _(
            "{job}: attended by {one} and by {two} at {when:minute}",
            job=job,
            one=one,
            two=two,
            when=view.when(span.start),
        )
        yield Breach(rule="watch", message=message, job=job, technician=two)
