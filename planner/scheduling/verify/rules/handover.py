"""One attendant for all of a tyre's watched time, unless `handover_allowed`."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.attendance import attendance_of, needed_by
from planner.scheduling.verify.stretches import shared
from planner.scheduling.verify.view import PlanView


def handover_check(view: PlanView) -> Iterator[Breach]:
    """Tyres whose watch passes from one attendant to another."""
    if view.problem.rules.handover_allowed:
        return
    attendants: dict[str, list[str]] = {}
    for (technician, job), stretches in attendance_of(view).items():
        if job in view.placed and shared(stretches, needed_by(view, view.placed[job])):
            attendants.setdefault(job, []).append(technician)
    for job, names in attendants.items():
        if len(names) > 1:
            message = _("{job}: the watch passes between {names}", job=job, names=tuple(names))
            yield Breach(rule="handover", message=message, job=job)
