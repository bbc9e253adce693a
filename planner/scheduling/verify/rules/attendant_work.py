"""No hands-on work while attending, unless `attendant_may_work`."""

from collections import defaultdict
from collections.abc import Iterator

from planner.domain.bay_time import Span
from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.attendance import attendance_of
from planner.scheduling.verify.stretches import merged, shared
from planner.scheduling.verify.view import PlanView


def attendant_work_check(view: PlanView) -> Iterator[Breach]:
    """Stages whose crew attends a tyre meanwhile."""
    if view.problem.rules.attendant_may_work:
        return
    spans: dict[str, list[Span]] = defaultdict(list)
    for (technician, _job), stretches in attendance_of(view).items():
        spans[technician].extend(stretches)
    attending = {name: merged(stretches) for name, stretches in spans.items()}
    for placed in view.stages():
        crew = placed.planned.technicians if placed.hands_on else ()
        for name in crew:
            if shared(attending.get(name, ()), (placed.span,)):
                yield placed.breach("attendant_work", _("{name} attends a tyre meanwhile", name=name), name)
