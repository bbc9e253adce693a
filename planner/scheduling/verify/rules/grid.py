"""Every time lies on the grid; a locked stage, and the watch over it, keeps its own times."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.plan import Watch
from planner.domain.sentences import _
from planner.scheduling.verify.view import PlanView


def grid_check(view: PlanView) -> Iterator[Breach]:
    """Unlocked stages and watches with a time off the grid."""
    grid = view.problem.grid_minutes
    for placed in view.stages():
        if not placed.locked and (placed.span.start % grid or placed.span.end % grid):
            yield placed.breach("grid", _("does not lie on the {grid} min grid", grid=grid))
    kept = {time for stage in view.locked.values() for time in (stage.start, stage.end)}
    for watch in view.schedule.watch:
        if any(time % grid and time not in kept for time in (watch.span.start, watch.span.end)):
            yield _breach(watch, grid)


def _breach(watch: Watch, grid: int) -> Breach:
    message = _(
        "{technician}: the watch over {jobs} does not lie on the {grid} min grid",
        technician=watch.technician,
        jobs=tuple(watch.jobs),
        grid=grid,
    )
    return Breach(rule="grid", message=message, technician=watch.technician)
