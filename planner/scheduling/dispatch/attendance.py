"""Who attends which tyre when, once all work is placed."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, Watch
from planner.domain.work import StageKind
from planner.scheduling.dispatch.bay import Bay

Turn = tuple[str, int, int, str]
"""Technician, start and end minute, job."""


def watch_of(bay: Bay, jobs: tuple[PlannedJob, ...], attendants: dict[str, int | None]) -> tuple[Watch, ...]:
    """The watch over `jobs`; `attendants` names who has the whole of each where it may not be handed over.

    The board has made sure of the capacity at each moment, so that a free attendant is always found.
    """
    watched = tuple(_watched(bay, jobs))
    if bay.named_watch:
        turns = [(bay.crew[attendants[job] or 0].id, span.start, span.end, job) for job, span in watched]
    else:
        turns = list(_Rota(bay, jobs, watched).turns())
    return _joined(turns)


def _watched(bay: Bay, jobs: Iterable[PlannedJob]) -> Iterator[tuple[str, Span]]:
    """The watched stretches of each job from the horizon's start on, in minutes."""
    rules = bay.problem.rules
    known = {job.id: {stage.name: stage for stage in job.stages} for job in bay.problem.jobs}
    for job in jobs:
        for planned in job.stages:
            kind = known[job.id][planned.name].kind
            hot = kind is StageKind.ENERGISED or (kind is StageKind.PRESSURISED and rules.watch_cool_down)
            if hot and planned.end > 0:
                yield job.id, Span(max(0, planned.start), planned.end)


@dataclass(slots=True)
class _Rota:
    """Shares out a watch that may be handed over: each tyre stays with its attendant as long as it can."""

    bay: Bay
    jobs: tuple[PlannedJob, ...]
    watched: tuple[tuple[str, Span], ...]
    _working: dict[str, list[Span]] = field(default_factory=dict)

    def turns(self) -> Iterator[Turn]:
        """One turn for each tyre and stretch of time between two changes."""
        if not self.bay.problem.rules.attendant_may_work:
            for job in self.jobs:
                for stage in job.stages:
                    for technician in stage.technicians:
                        self._working.setdefault(technician, []).append(stage.span)
        moments = self._moments()
        holding: dict[str, str] = {}
        for start, end in pairwise(moments):
            tyres = sorted({job for job, span in self.watched if span.start <= start and end <= span.end})
            holding = self._shared(tyres, holding, start)
            yield from ((holding[job], start, end, job) for job in tyres)

    def _moments(self) -> list[int]:
        """All minutes in which somebody's presence or a tyre's need may change."""
        minutes = {minute for _, span in self.watched for minute in (span.start, span.end)}
        minutes |= {
            minute for spans in self._working.values() for span in spans for minute in (span.start, span.end)
        }
        grid = self.bay.grid
        for one in self.bay.crew:
            edges = one.attending ^ (one.attending << 1)
            while edges:
                minutes.add(grid.minute((edges & -edges).bit_length() - 1))
                edges &= edges - 1
        return sorted(minutes)

    def _shared(self, tyres: list[str], before: dict[str, str], minute: int) -> dict[str, str]:
        """Who holds each of `tyres` from `minute` on."""
        cures = self.bay.problem.rules.cures_per_attendant
        room = dict.fromkeys(self._there(minute), cures)
        holding = {}
        for job in tyres:
            if room.get(before.get(job, ""), 0):
                holding[job] = before[job]
                room[before[job]] -= 1
        for job in tyres:
            if job not in holding:
                # The one with the fewest tyres, so that nobody's hands are fuller than need be.
                technician = max(room, key=lambda one: (room[one], self._until(one, minute), one))
                holding[job] = technician
                room[technician] -= 1
        return holding

    def _there(self, minute: int) -> list[str]:
        slot = self.bay.grid.slot_before(minute)
        return [
            one.id
            for one in self.bay.crew
            if one.attending >> slot & 1
            and not any(span.start <= minute < span.end for span in self._working.get(one.id, ()))
        ]

    def _until(self, technician: str, minute: int) -> int:
        """For how many slots on end the technician may attend from `minute` on."""
        attending = next(one.attending for one in self.bay.crew if one.id == technician)
        ahead = attending >> self.bay.grid.slot_before(minute)
        return ((ahead + 1) & -(ahead + 1)).bit_length()


def _joined(turns: list[Turn]) -> tuple[Watch, ...]:
    """Turns as watches: one for each technician and time, neighbours over the same tyres made one."""
    tyres: dict[tuple[str, int, int], list[str]] = {}
    for technician, start, end, job in turns:
        tyres.setdefault((technician, start, end), []).append(job)
    joined: list[Watch] = []
    for (technician, start, end), jobs in sorted(tyres.items()):
        names = tuple(sorted(set(jobs)))
        last = joined[-1] if joined else None
        if last and (last.technician, last.span.end, last.jobs) == (technician, start, names):
            joined[-1] = Watch(technician=technician, span=Span(last.span.start, end), jobs=names)
        else:
            joined.append(Watch(technician=technician, span=Span(start, end), jobs=names))
    return tuple(joined)
