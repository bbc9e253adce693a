"""No energised stage meets an isolation of the supply."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.view import PlanView


def power_off_check(view: PlanView) -> Iterator[Breach]:
    """Energised stages, locked ones too, that meet an isolation."""
    isolations = [span.outward(view.problem.grid_minutes) for span in view.problem.power_off]
    for placed in view.stages():
        for off in isolations:
            if placed.energised and placed.span.meets(off):
                message = _(
                    "is energised while the supply is isolated from {when:minute}", when=view.when(off.start)
                )
                yield placed.breach("power_off", message)
