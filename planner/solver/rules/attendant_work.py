"""Attendant work: nobody does hands-on work while attending, unless the bay allows it."""

from collections.abc import Iterator

from planner.solver.attendance import watch_room
from planner.solver.crews import CrewPool
from planner.solver.door import cp_model
from planner.solver.masks import runs
from planner.solver.model import BayModel, ChosenCrew, JobVariables, Literal
from planner.solver.rules.rule import Rule

Busy = tuple[cp_model.IntervalVar, int]


class AttendantWork(Rule):
    """A technician at work takes away the tyres that they could have watched."""

    stem = "attendant_work"

    def post(self, model: BayModel) -> None:
        """Watched tyres, and hands-on work by people who could attend, share one cumulative."""
        rules = model.state.bay.problem.rules
        if rules.attendant_may_work:
            return
        intervals = [interval for _, interval in model.watched_intervals()]
        busy = list(_busy_attendants(model))
        sizes = [1] * len(intervals) + [rules.cures_per_attendant * count for _, count in busy]
        room = watch_room(model.state, busy=True)
        model.add_cumulative([*intervals, *(interval for interval, _ in busy)], sizes, room)


def _busy_attendants(model: BayModel) -> Iterator[Busy]:
    bay = model.state.bay
    able = [pool for pool in bay.crews if bay.problem.rules.watch_skill in pool.skills]
    for job in model.jobs.values():
        for stage, chosen in job.crews.items():
            for entry in chosen:
                for pool in able:
                    if entry.choice.crew.drawn_from(pool.id):
                        yield from _busy_in(model, job, stage, entry, pool)


def _busy_in(
    model: BayModel, job: JobVariables, stage: int, entry: ChosenCrew, pool: CrewPool
) -> Iterator[Busy]:
    count = entry.choice.crew.drawn_from(pool.id)
    work = job.work.piece_of(stage).length_of(stage)
    if model.state.bay.problem.rules.watch_through_breaks or entry.choice.elapsed == work:
        yield model.crew_interval(job, stage, entry), count
        return
    stretches = list(runs(entry.choice.starts))
    taken_in = [model.cp.new_bool_var("") for _ in stretches]
    model.cp.add(sum(taken_in) == entry.taken)
    for (first, last), taken in zip(stretches, taken_in, strict=True):
        within = cp_model.Domain(first, last - 1)
        model.cp.add_linear_expression_in_domain(model.start(job, stage), within).only_enforce_if(taken)
        yield from ((part, count) for part in _between_breaks(model, job, stage, entry, pool, first, taken))


def _between_breaks(
    model: BayModel,
    job: JobVariables,
    stage: int,
    entry: ChosenCrew,
    pool: CrewPool,
    first: int,
    taken: Literal,
) -> Iterator[cp_model.IntervalVar]:
    """The stage less its crew's own breaks: an attendant on a break is missed from the watch already."""
    start, elapsed = model.start(job, stage), entry.choice.elapsed
    pauses = [
        p for window in pool.windows for p in window.breaks if first < p[0] and p[1] < first + elapsed + 1
    ]
    edges = [start, *(edge for pause in pauses for edge in pause), start + elapsed]
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        size = model.cp.new_int_var(0, elapsed, "")
        yield model.cp.new_optional_interval_var(begin, size, end, taken, "")
