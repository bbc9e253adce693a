"""Who attends which tyre when, as stretches; and when a tyre must be attended."""

from collections import defaultdict

from planner.domain.bay_time import Span
from planner.scheduling.verify.placed import PlacedJob
from planner.scheduling.verify.stretches import Stretches, merged
from planner.scheduling.verify.view import PlanView

Attendance = dict[tuple[str, str], Stretches]
"""The attended stretches by technician and job."""


def attendance_of(view: PlanView) -> Attendance:
    """The plan's watch by known technician and job."""
    spans: dict[tuple[str, str], list[Span]] = defaultdict(list)
    for watch in view.schedule.watch:
        for job in watch.jobs:
            if watch.technician in view.rosters:
                spans[watch.technician, job].append(watch.span)
    return {key: merged(stretch) for key, stretch in spans.items()}


def needed_by(view: PlanView, job: PlacedJob) -> Stretches:
    """When a tyre must be attended; what lies before the horizon's start is history."""
    cool_down = view.problem.rules.watch_cool_down
    spans = [stage.span for stage in job.stages if stage.watched(cool_down)]
    return merged(Span(max(span.start, 0), span.end) for span in spans if span.end > 0)
