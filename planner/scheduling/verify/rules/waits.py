"""The least and the greatest wait between neighbouring stages."""

from collections.abc import Iterator
from itertools import pairwise

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.placed import PlacedStage
from planner.scheduling.verify.view import PlanView


def waits_check(view: PlanView) -> Iterator[Breach]:
    """Waits that are too short or too long, unless both neighbours are locked."""
    for job in view.placed.values():
        for one, two in pairwise(job.stages):
            if not (one.locked and two.locked):
                yield from _wait(view, one, two)


def _wait(view: PlanView, one: PlacedStage, two: PlacedStage) -> Iterator[Breach]:
    wait = two.planned.start - one.planned.end
    least = view.up(one.stage.min_wait_after)
    most = one.stage.max_wait_after
    if wait < 0:
        yield one.breach("waits", _("the next stage begins {wait} min before this one is over", wait=-wait))
    elif wait < least:
        yield one.breach(
            "waits", _("is followed after {wait} min, at least {least} are asked", wait=wait, least=least)
        )
    if most is not None and wait > view.down(most):
        yield one.breach(
            "waits",
            _("is followed after {wait} min, at most {down} are allowed", wait=wait, down=view.down(most)),
        )
