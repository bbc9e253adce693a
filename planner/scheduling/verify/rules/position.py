"""One eligible position for a whole stay, one job at a time, none elsewhere."""

from collections import defaultdict
from collections.abc import Iterator

from planner.domain.bay_time import Span
from planner.domain.breach import Breach
from planner.scheduling.verify.holdings import position_of
from planner.scheduling.verify.placed import PlacedJob
from planner.scheduling.verify.stretches import clashes
from planner.scheduling.verify.view import PlanView


def position_check(view: PlanView) -> Iterator[Breach]:
    """Stays without one eligible position, positions where none belongs, positions with two jobs."""
    uses: dict[str, list[tuple[Span, str]]] = defaultdict(list)
    for job in view.placed.values():
        yield from _eligible(view, job)
        for stay in job.stays():
            position = position_of(view, job, stay)
            if position is not None:
                uses[position.id].append((stay.span, job.job.id))
    for name, stays in uses.items():
        for (_, one), (span, two) in clashes(stays):
            message = f"{name}: {two} comes at {view.when(span.start)}, before {one} has left"
            yield Breach(rule="position", message=message, position=name, job=two)


def _eligible(view: PlanView, job: PlacedJob) -> Iterator[Breach]:
    for stay in job.stays():
        if position_of(view, job, stay) is None:
            names = ", ".join(dict.fromkeys(stage.planned.position or "none" for stage in stay.stages))
            kind = stay.stages[0].stage.place
            message = f"the stay needs one eligible position of the kind {kind}, not {names}"
            yield stay.stages[0].breach("position", message)
    for placed in job.stages:
        if placed.planned.position is not None and placed.stage.place is None:
            yield placed.breach("position", "holds a position and needs none")
