"""A stage meets no break of its crew; a pausable one neither starts nor ends in one."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.crews import pauses_in
from planner.scheduling.verify.view import PlanView


def breaks_check(view: PlanView) -> Iterator[Breach]:
    """Unlocked hands-on stages that break their crew's breaks."""
    for placed in view.stages():
        pauses = () if placed.locked else pauses_in(view, placed)
        if not pauses:
            continue
        if not placed.stage.pausable:
            yield placed.breach(
                "breaks", _("meets a break of its crew at {when:minute}", when=view.when(pauses[0].start))
            )
        if pauses[0].start == placed.span.start:
            yield placed.breach("breaks", _("starts inside a break of its crew"))
        if pauses[-1].end == placed.span.end:
            yield placed.breach("breaks", _("ends inside a break of its crew"))
