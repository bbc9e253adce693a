"""Handover: one attendant has the whole watched time of a tyre, unless the watch may pass on."""

from collections.abc import Iterator, Sequence

from planner.solver.attendance import AttendantGroup, attendant_groups, watched_in, watched_runs
from planner.solver.bay import watched_kinds
from planner.solver.choices import stage_starts
from planner.solver.door import cp_model
from planner.solver.masks import Mask, room_for, stretch
from planner.solver.model import BayModel, JobVariables, Literal
from planner.solver.pieces import Piece, TyreWork
from planner.solver.rooms import Room, Use
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


class Handover(Rule):
    """Every watched tyre chooses one group of attendants, who have all of it in their own presence."""

    stem = "handover"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps from which one attendant is present for all that the piece has watched."""
        if state.bay.problem.rules.handover_allowed or not tuple(watched_in(state, piece)):
            return state.bay.whole
        found = 0
        for group in attendant_groups(state):
            found |= group_starts(state, piece, group)
        return found

    def post(self, model: BayModel) -> None:
        """A choice of group for each tyre and a load for each group."""
        if model.state.bay.problem.rules.handover_allowed:
            return
        groups = model.groups
        for job in model.jobs.values():
            if watched_runs(model.state, job.work):
                _choose(model, job, groups)
        for index, group in enumerate(groups):
            _load(model, index, group)


def group_starts(state: BayState, piece: Piece, group: AttendantGroup) -> Mask:
    """The steps from which the group is present for all that the piece has watched."""
    found = state.bay.whole
    for stage, length in watched_in(state, piece):
        found &= stage_starts(piece, stage, room_for(group.present, length))
    return found


def _choose(model: BayModel, job: JobVariables, groups: Sequence[AttendantGroup]) -> None:
    able = [index for index, group in enumerate(groups) if _attends_locked(model.state, job.work, group)]
    job.attendants = {index: model.cp.new_bool_var("") for index in able}
    model.cp.add(sum(job.attendants.values()) == job.planned)
    for index, taken in job.attendants.items():
        for piece in job.work.pieces:
            if tuple(watched_in(model.state, piece)):
                mask = group_starts(model.state, piece, groups[index])
                model.starts_in(model.start(job, piece.stages.start), mask, taken)


def _attends_locked(state: BayState, work: TyreWork, group: AttendantGroup) -> bool:
    grid = state.bay.grid
    for run in watched_runs(state, work):
        if run.start in work.locked:
            steps = stretch(work.locked[run.start].start // grid, -(-work.locked[run.stop - 1].end // grid))
            if steps & ~group.present:
                return False
    return True


def _load(model: BayModel, index: int, group: AttendantGroup) -> None:
    rules = model.state.bay.problem.rules
    intervals = [
        interval
        for job in model.jobs.values()
        if index in job.attendants
        for interval in _watches(model, job, job.attendants[index])
    ]
    sizes = [1] * len(intervals)
    if not rules.attendant_may_work:
        work = list(_work_of(model, group.technicians[0]))
        intervals += work
        sizes += [rules.cures_per_attendant] * len(work)
    model.add_cumulative(intervals, sizes, _room(model.state, group))


def _watches(model: BayModel, job: JobVariables, taken: Literal) -> Iterator[cp_model.IntervalVar]:
    for run in watched_runs(model.state, job.work):
        if run.start not in job.work.locked:
            yield model.interval(job, run, taken)
            continue
        first = max(job.work.locked[run.start].start // model.grid, 0)
        last = -(-job.work.locked[run.stop - 1].end // model.grid)
        if first < last:
            yield model.cp.new_optional_fixed_size_interval_var(first, last - first, taken, "")


def _work_of(model: BayModel, technician: str) -> Iterator[cp_model.IntervalVar]:
    own = {
        pool.id
        for pool in model.state.bay.crews
        if any(technician in window.technicians for window in pool.windows)
    }
    for job in model.jobs.values():
        for stage, chosen in job.crews.items():
            for entry in chosen:
                if own & set(entry.choice.crew.pools):
                    yield model.crew_interval(job, stage, entry)


def _room(state: BayState, group: AttendantGroup) -> Room:
    rules, most = state.bay.problem.rules, state.bay.problem.rules.cures_per_attendant
    uses: list[Use] = []
    for standing in state.taken:
        if state.held_watch.get(standing.job.id) in group.technicians:
            kinds = watched_kinds(state.bay.problem)
            stages = (
                stage for index, stage in standing.stages.items() if standing.job.stages[index].kind in kinds
            )
            uses += [(stage.start, stage.end, 1) for stage in stages]
    if not rules.attendant_may_work:
        held = (stage for stage in state.held_work() if group.technicians[0] in stage.technicians)
        uses += [(stage.start, stage.end, most) for stage in held]
    return state.room([(0, state.bay.steps, most * len(group.technicians))], uses)
