"""No more tyres than `cures_per_attendant` under one attendant's watch at once."""

from collections import defaultdict
from collections.abc import Iterator

from planner.domain.bay_time import Span
from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.attendance import attendance_of
from planner.scheduling.verify.view import PlanView


def attendant_load_check(view: PlanView) -> Iterator[Breach]:
    """Attendants with too many tyres, each at its worst moment."""
    limit = view.problem.rules.cures_per_attendant
    spans: dict[str, list[Span]] = defaultdict(list)
    for (technician, _job), stretches in attendance_of(view).items():
        spans[technician].extend(stretches)
    for technician, attended in spans.items():
        tyres, moment = _worst(attended)
        if tyres > limit:
            message = _(
                "{technician}: attends {tyres} tyres at {when:minute}, at most {limit} are allowed",
                technician=technician,
                tyres=tyres,
                when=view.when(moment),
                limit=limit,
            )
            yield Breach(rule="attendant_load", message=message, technician=technician)


def _worst(spans: list[Span]) -> tuple[int, int]:
    """The most spans that share a minute, and the first such minute."""
    steps = sorted([(span.start, 1) for span in spans] + [(span.end, -1) for span in spans])
    now, worst = 0, (0, 0)
    for moment, step in steps:
        now += step
        if now > worst[0]:
            worst = (now, moment)
    return worst
