"""Name who attends what: the watch of a plan whose jobs are named already."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, Watch
from planner.solver.bay import Bay, watched_kinds
from planner.solver.masks import runs

Stretch = tuple[int, int, str, str]
"""Start, end [min], technician, job."""


def watch_of(
    bay: Bay, jobs: Sequence[PlannedJob], attendants: Mapping[str, Sequence[str]]
) -> tuple[Watch, ...]:
    """The whole watch; `attendants` says who may take a job where the watch may not pass on."""
    handover = bay.problem.rules.handover_allowed
    stretches = _passed_on(bay, jobs) if handover else _whole(bay, jobs, attendants)
    return tuple(_together(sorted(stretches)))


def watched_time(bay: Bay, job: PlannedJob) -> list[tuple[int, int]]:
    """The stretches of a planned job that need an attendant, from the horizon's start on [min]."""
    kinds, specs = watched_kinds(bay.problem), bay.works[job.id].job.stages
    found: list[tuple[int, int]] = []
    for stage, spec in zip(job.stages, specs, strict=True):
        start, end = max(stage.start, 0), stage.end
        if spec.kind not in kinds or end <= start:
            continue
        if found and found[-1][1] == start:
            found[-1] = (found[-1][0], end)
        else:
            found.append((start, end))
    return found


def _passed_on(bay: Bay, jobs: Sequence[PlannedJob]) -> Iterator[Stretch]:
    """Between any two moments at which something changes, share the watched tyres among those present."""
    watched = {job.id: watched_time(bay, job) for job in jobs}
    present = _present(bay, jobs)
    moments = {edge for spans in (*watched.values(), *present.values()) for span in spans for edge in span}
    last: dict[str, str] = {}
    for start, end in pairwise(sorted(moments)):
        open_now = [job for job, spans in watched.items() if _covers(spans, start)]
        if open_now:
            here = [technician for technician, spans in present.items() if _covers(spans, start)]
            last = _shared(open_now, here, last, bay.problem.rules.cures_per_attendant)
            yield from ((start, end, technician, job) for job, technician in last.items())


def _covers(spans: Sequence[tuple[int, int]], minute: int) -> bool:
    return any(start <= minute < end for start, end in spans)


def _present(bay: Bay, jobs: Sequence[PlannedJob]) -> dict[str, list[tuple[int, int]]]:
    """When each attendant may watch [min]; less their hands-on work where that keeps them away."""
    grid = bay.grid
    present = {one: [(a * grid, b * grid) for a, b in runs(mask)] for one, mask in bay.on_watch.items()}
    if not bay.problem.rules.attendant_may_work:
        for job in jobs:
            for stage in job.stages:
                for technician in set(stage.technicians) & present.keys():
                    present[technician] = list(_without(present[technician], stage.start, stage.end))
    return present


def _without(spans: Sequence[tuple[int, int]], start: int, end: int) -> Iterator[tuple[int, int]]:
    for first, last in spans:
        if first < min(start, last):
            yield first, min(start, last)
        if max(end, first) < last:
            yield max(end, first), last


def _shared(jobs: Sequence[str], here: Sequence[str], last: Mapping[str, str], most: int) -> dict[str, str]:
    """Attendant by job: whoever had it keeps it; others go to the attendant with the fewest tyres."""
    load = dict.fromkeys(here, 0)
    given: dict[str, str] = {}
    for job in jobs:
        technician = last.get(job)
        if technician in load and load[technician] < most:
            given[job] = technician
            load[technician] += 1
    for job in jobs:
        if job not in given and load:
            technician = min(load, key=lambda one: load[one])
            given[job] = technician
            load[technician] += 1
    return given


def _whole(
    bay: Bay, jobs: Sequence[PlannedJob], attendants: Mapping[str, Sequence[str]]
) -> Iterator[Stretch]:
    """Each tyre to one attendant of its group who has room throughout, earliest start first."""
    most, taken = bay.problem.rules.cures_per_attendant, dict[str, list[tuple[int, int]]]()
    spans_of = {job.id: watched_time(bay, job) for job in jobs}
    for job in sorted((job.id for job in jobs if spans_of[job.id]), key=lambda one: (spans_of[one], one)):
        able = list(attendants.get(job, ()))
        if not able:
            continue
        technician = min(
            able, key=lambda one: (_meeting(taken.get(one, []), spans_of[job]) >= most, able.index(one))
        )
        taken.setdefault(technician, []).extend(spans_of[job])
        yield from ((start, end, technician, job) for start, end in spans_of[job])


def _meeting(taken: Sequence[tuple[int, int]], spans: Sequence[tuple[int, int]]) -> int:
    """How many of the taken stretches are open at the start of one of the spans, at most."""
    return max(sum(1 for a, b in taken if a <= start < b) for start, _ in spans)


def _together(stretches: Sequence[Stretch]) -> Iterator[Watch]:
    """One entry for each technician and each time in which they have the same tyres."""
    by_technician: dict[str, list[Stretch]] = {}
    for stretch in stretches:
        by_technician.setdefault(stretch[2], []).append(stretch)
    for technician, own in sorted(by_technician.items()):
        yield from _joined(technician, own)


def _joined(technician: str, own: Sequence[Stretch]) -> Iterator[Watch]:
    current: Watch | None = None
    for start, end in pairwise(sorted({edge for stretch in own for edge in stretch[:2]})):
        jobs = tuple(sorted(stretch[3] for stretch in own if stretch[0] <= start and end <= stretch[1]))
        if current is not None and current.jobs == jobs and current.span.end == start:
            current = Watch(technician=technician, span=Span(current.span.start, end), jobs=jobs)
            continue
        if current is not None and current.jobs:
            yield current
        current = Watch(technician=technician, span=Span(start, end), jobs=jobs)
    if current is not None and current.jobs:
        yield current
