"""One eligible position for a whole stay, one job at a time, none elsewhere."""

from collections import defaultdict
from collections.abc import Iterator

from planner.domain.bay_time import Span
from planner.domain.breach import Breach
from planner.domain.sentences import _
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
        for (_before, one), (span, two) in clashes(stays):
            message = _(
                "{name}: {two} comes at {when:minute}, before {one} has left",
                name=name,
                two=two,
                when=view.when(span.start),
                one=one,
            )
            yield Breach(rule="position", message=message, position=name, job=two)


def _eligible(view: PlanView, job: PlacedJob) -> Iterator[Breach]:
    for stay in job.stays():
        if position_of(view, job, stay) is None:
            names = tuple(dict.fromkeys(stage.planned.position or _("none") for stage in stay.stages))
            kind = stay.stages[0].stage.place
            message = _(
                "the stay needs one eligible position of the kind {kind}, not {names}", kind=kind, names=names
            )
            yield stay.stages[0].breach("position", message)
    for placed in job.stages:
        if placed.planned.position is not None and placed.stage.place is None:
            yield placed.breach("position", _("holds a position and needs none"))
