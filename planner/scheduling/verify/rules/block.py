"""Each stage of the heat block starts as the one before ends."""

from collections.abc import Iterator
from itertools import pairwise

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.view import PlanView


def block_check(view: PlanView) -> Iterator[Breach]:
    """Heat blocks with a gap, unless both neighbours are locked."""
    for job in view.placed.values():
        for one, two in pairwise(job.stages):
            gap = two.planned.start - one.planned.end
            if one.stage.block and two.stage.block and gap and not (one.locked and two.locked):
                yield two.breach("block", _("the heat block is interrupted for {gap} min before it", gap=gap))
