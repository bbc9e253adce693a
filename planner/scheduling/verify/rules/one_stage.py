"""A technician does one hands-on stage at a time."""

from collections import defaultdict
from collections.abc import Iterator

from planner.domain.bay_time import Span
from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.stretches import clashes
from planner.scheduling.verify.view import PlanView


def one_stage_check(view: PlanView) -> Iterator[Breach]:
    """Technicians with two stages at once; locked ones count as well."""
    uses: dict[str, list[tuple[Span, str]]] = defaultdict(list)
    for placed in view.stages():
        if placed.hands_on:
            for name in placed.planned.technicians:
                uses[name].append((placed.span, f"{placed.job}, {placed.stage.name}"))
    for name, stages in uses.items():
        for (_before, one), (span, two) in clashes(stages):
            message = _(
                "{name}: works on {one} and on {two} at {when:minute}",
                name=name,
                one=one,
                two=two,
                when=view.when(span.start),
            )
            yield Breach(rule="one_stage", message=message, technician=name)
