"""The part of a bay that a general scheduling package can say: people, heater sets, waits and due times.

Left out of the bay for every planner alike: floor positions, crews of two, pauses, power, channels, who
attends what, and leaving a tyre out. The heat block is one stretch on one heater set, which is closed while
nobody with the watch skill is on shift. The roster is repeated so that every tyre has room.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift, Technician
from planner.domain.work import Job, Stage, StageKind

ROSTERS = 3


def part_of(problem: BayProblem) -> BayProblem:
    """The same tyres on a bay with fewer rules and a longer roster."""
    technicians = tuple(_repeated(one, problem.horizon_end) for one in problem.technicians)
    end = ROSTERS * problem.horizon_end
    unattended = tuple(_unattended(technicians, problem.rules.watch_skill, end))
    return replace(
        problem,
        horizon_end=end,
        rules=replace(problem.rules, power_limit_kw=None, channel_limit=None),
        technicians=technicians,
        positions=(),
        heater_sets=tuple(
            replace(one, closed=unattended, turnaround_minutes=0) for one in problem.heater_sets
        ),
        jobs=tuple(_job(job) for job in problem.jobs),
    )


def _repeated(technician: Technician, period: int) -> Technician:
    shifts = tuple(
        Shift(span=_later(shift.span, by), breaks=tuple(_later(pause, by) for pause in shift.breaks))
        for by in range(0, ROSTERS * period, period)
        for shift in technician.shifts
    )
    return replace(technician, shifts=shifts)


def _later(span: Span, minutes: int) -> Span:
    return Span(span.start + minutes, span.end + minutes)


def _unattended(technicians: tuple[Technician, ...], skill: str, end: int) -> Iterator[Span]:
    present = [shift.span for one in technicians if skill in one.skills for shift in one.shifts]
    yield from gaps(present, end)


def gaps(spans: list[Span], end: int) -> Iterator[Span]:
    """What `spans` leave open from 0 to `end` [min]."""
    reached = 0
    for span in sorted(spans, key=lambda one: one.start):
        if span.start > reached:
            yield Span(reached, span.start)
        reached = max(reached, span.end)
    if reached < end:
        yield Span(reached, end)


def _job(job: Job) -> Job:
    return replace(job, stages=tuple(_stages(job)), positions={})


def _stages(job: Job) -> Iterator[Stage]:
    block = [job.stages[index] for index in job.block]
    for stage in job.stages:
        if not stage.block:
            crew = 1 if stage.crew else 0
            yield replace(stage, place=None, pausable=False, crew=crew)
        elif stage is block[0]:
            yield replace(
                block[-1],
                name="block",
                kind=StageKind.WAIT,
                minutes=sum(one.minutes for one in block),
                crew=0,
                skill=None,
                place=None,
            )


def away(technician: Technician, end: int) -> list[Span]:
    """When a technician does no work: off shift and in breaks [min]."""
    at_work: list[Span] = []
    for shift in technician.shifts:
        edges = [shift.span.start, *(edge for one in shift.breaks for edge in (one.start, one.end))]
        stretches = list(pairwise([*edges, shift.span.end]))[::2]
        at_work.extend(Span(first, last) for first, last in stretches if first < last)
    return list(gaps(at_work, end))
