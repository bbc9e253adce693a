"""An attendant has the watch skill, is on shift, and off break unless breaks are watched through."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.plan import Watch
from planner.scheduling.verify.stretches import Stretches, missing
from planner.scheduling.verify.view import PlanView


def attendant_check(view: PlanView) -> Iterator[Breach]:
    """Watches by somebody who may not attend, or not then."""
    rules = view.problem.rules
    free = {
        name: roster.present() if rules.watch_through_breaks else roster.at_work()
        for name, roster in view.rosters.items()
    }
    for watch in view.schedule.watch:
        roster = view.rosters.get(watch.technician)
        if roster is None:
            yield _breach(watch, "there is no such technician")
            continue
        if rules.watch_skill not in roster.skills:
            yield _breach(watch, f"attends without the skill {rules.watch_skill}")
        yield from _absence(view, watch, free[watch.technician])


def _absence(view: PlanView, watch: Watch, free: Stretches) -> Iterator[Breach]:
    absent = missing((watch.span,), free)
    if absent:
        off = "off shift" if view.problem.rules.watch_through_breaks else "off shift or in a break"
        yield _breach(watch, f"attends {', '.join(watch.jobs)} while {off} at {view.when(absent[0].start)}")


def _breach(watch: Watch, message: str) -> Breach:
    return Breach(rule="attendant", message=f"{watch.technician}: {message}", technician=watch.technician)
