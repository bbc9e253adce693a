"""An attendant has the watch skill, is on shift, and off break unless breaks are watched through."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.plan import Watch
from planner.domain.sentences import Sentence, _
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
            yield _breach(watch, _("there is no such technician"))
            continue
        if rules.watch_skill not in roster.skills:
            yield _breach(watch, _("attends without the skill {watch_skill}", watch_skill=rules.watch_skill))
        yield from _absence(view, watch, free[watch.technician])


def _absence(view: PlanView, watch: Watch, free: Stretches) -> Iterator[Breach]:
    absent = missing((watch.span,), free)
    if absent:
        off = _("off shift") if view.problem.rules.watch_through_breaks else _("off shift or in a break")
        yield _breach(
            watch,
            _(
                "attends {jobs} while {off} at {when:minute}",
                jobs=tuple(watch.jobs),
                off=off,
                when=view.when(absent[0].start),
            ),
        )


def _breach(watch: Watch, what: Sentence) -> Breach:
    return Breach(
        rule="attendant",
        message=_("{technician}: {what}", technician=watch.technician, what=what),
        technician=watch.technician,
    )
