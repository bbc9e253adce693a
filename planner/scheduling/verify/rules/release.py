"""Nothing unlocked before the job is released."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.view import PlanView


def release_check(view: PlanView) -> Iterator[Breach]:
    """Unlocked stages that start before `released_at`."""
    for job in view.placed.values():
        released = job.job.released_at
        for placed in job.stages:
            if placed.span.start < released and not placed.locked:
                yield placed.breach(
                    "release",
                    _("starts before the tyre is released at {when:minute}", when=view.when(released)),
                )
