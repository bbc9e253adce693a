"""Every locked stage stands in the plan exactly as given."""

from collections.abc import Iterator
from dataclasses import replace

from planner.domain.breach import Breach
from planner.domain.plan import PlannedStage
from planner.domain.sentences import _
from planner.scheduling.verify.view import PlanView


def locked_check(view: PlanView) -> Iterator[Breach]:
    """Locked stages that are missing from the plan or differ in it."""
    planned = {(placed.job, placed.stage.name): placed.planned for placed in view.stages() if placed.locked}
    for (job, name), stage in view.locked.items():
        if (job, name) not in planned:
            message = _("{job}, {name}: is locked and not in the plan", job=job, name=name)
        elif _plain(planned[job, name]) != _plain(stage):
            message = _("{job}, {name}: differs from how it is locked", job=job, name=name)
        else:
            continue
        yield Breach(rule="locked", message=message, job=job, stage=name)


def _plain(stage: PlannedStage) -> PlannedStage:
    """The stage with its crew in one order: who stands first says nothing."""
    return replace(stage, technicians=tuple(sorted(stage.technicians)))
