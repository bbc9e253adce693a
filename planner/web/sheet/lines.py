"""The lines of a shift sheet, from the plan: work, attendance with its hand-overs, and breaks."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedStage, Schedule, Watch
from planner.domain.problem import BayProblem
from planner.domain.resources import Technician
from planner.web.timeline.appearance import Look, stage_looks


class LineKind(StrEnum):
    """What the technician does."""

    WORK = "work"
    WATCH = "watch"
    BREAK = "break"


_ATTENDED = frozenset({Look.HEAT_UP, Look.CURE, Look.COOL_DOWN})
"""What an attendant stands beside."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOver:
    """The watch over one tyre passes; `other` is who had it before or has it after."""

    job: str
    other: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One thing in one technician's day [min after the horizon's start]."""

    kind: LineKind
    span: Span
    jobs: tuple[str, ...] = ()
    look: Look | None = None
    stage: PlannedStage | None = None
    together_with: tuple[str, ...] = ()
    taken_from: tuple[HandOver, ...] = ()
    given_to: tuple[HandOver, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A technician's shift with its lines in order."""

    technician: str
    shift: Span
    lines: tuple[SheetLine, ...]

    @property
    def looks(self) -> frozenset[Look]:
        """The kinds of stage on the sheet, for the cautions that belong to them."""
        looks = frozenset(line.look for line in self.lines if line.look)
        return looks | _ATTENDED if Look.WATCH in looks else looks


def shift_sheets(problem: BayProblem, schedule: Schedule, day: Span) -> tuple[Sheet, ...]:
    """A sheet for every shift that begins in the day, in order of technician."""
    return tuple(
        Sheet(
            technician=technician.id,
            shift=shift.span,
            lines=tuple(sorted(_lines(problem, schedule, technician, shift.span), key=_in_order)),
        )
        for technician in problem.technicians
        for shift in technician.shifts
        if day.start <= shift.span.start < day.end
    )


def _in_order(line: SheetLine) -> tuple[int, int, str]:
    return line.span.start, line.span.end, line.kind


def _lines(
    problem: BayProblem, schedule: Schedule, technician: Technician, shift: Span
) -> Iterator[SheetLine]:
    yield from _work(problem, schedule, technician.id, shift)
    for watch in schedule.watch:
        if watch.technician == technician.id and shift.meets(watch.span):
            yield _watch_line(schedule, watch)
    for pause in (pause for one in technician.shifts if one.span == shift for pause in one.breaks):
        yield SheetLine(kind=LineKind.BREAK, span=pause)


def _work(problem: BayProblem, schedule: Schedule, technician: str, shift: Span) -> Iterator[SheetLine]:
    looks = {job.id: stage_looks(job) for job in problem.jobs}
    for planned in schedule.jobs:
        for stage in planned.stages:
            if technician in stage.technicians and shift.meets(stage.span):
                yield SheetLine(
                    kind=LineKind.WORK,
                    span=stage.span,
                    jobs=(planned.id,),
                    look=looks[planned.id][stage.name],
                    stage=stage,
                    together_with=tuple(name for name in stage.technicians if name != technician),
                )


def _watch_line(schedule: Schedule, watch: Watch) -> SheetLine:
    others = [other for other in schedule.watch if other.technician != watch.technician]
    return SheetLine(
        kind=LineKind.WATCH,
        span=watch.span,
        jobs=watch.jobs,
        look=Look.WATCH,
        taken_from=tuple(
            HandOver(job=job, other=other.technician)
            for other in others
            for job in watch.jobs
            if other.span.end == watch.span.start and job in other.jobs
        ),
        given_to=tuple(
            HandOver(job=job, other=other.technician)
            for other in others
            for job in watch.jobs
            if other.span.start == watch.span.end and job in other.jobs
        ),
    )
