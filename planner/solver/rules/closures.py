"""Closures: none of a set meets a block, none of a position meets a stay; a turnaround may meet one."""

from collections.abc import Iterable, Iterator, Sequence

from planner.solver.choices import position_choices, set_choices, stage_starts
from planner.solver.masks import Mask, room_for, runs
from planner.solver.model import BayModel, ChosenPool, JobVariables
from planner.solver.pieces import Piece
from planner.solver.places import PlacePool
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


class Closures(Rule):
    """A hold lies in the open time of the place that is chosen for it."""

    stem = "closures"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps at which every part of the piece finds some open place."""
        work, mask = state.bay.works[piece.job], state.bay.whole
        if work.job.block and piece.stages.start in work.job.block:
            mask &= room_for(_open(set_choices(state, work)), piece.work)
        for stay in work.job.stays():
            for stage in piece.stages:
                if stage in stay:
                    found = room_for(_open(position_choices(state, work, stay)), piece.length_of(stage))
                    mask &= stage_starts(piece, stage, found)
        return mask

    def post(self, model: BayModel) -> None:
        """Each chosen place keeps the hold out of its own closures."""
        for job in model.jobs.values():
            for run, pools in _holds(job):
                for chosen in pools:
                    _keep_out(model, job, run, chosen)


def _open(pools: Iterable[PlacePool]) -> Mask:
    mask = 0
    for pool in pools:
        mask |= pool.open
    return mask


def _holds(job: JobVariables) -> Iterator[tuple[range, Sequence[ChosenPool]]]:
    yield from ((block, job.sets) for block in job.open_block())
    yield from ((stay, pools) for stay, pools in job.stays.items() if not job.is_given(stay))


def _keep_out(model: BayModel, job: JobVariables, run: range, chosen: ChosenPool) -> None:
    closed = list(runs(model.state.bay.whole & ~chosen.pool.open))
    if closed:
        fixed = [model.cp.new_fixed_size_interval_var(first, last - first, "") for first, last in closed]
        model.cp.add_no_overlap([model.interval(job, run, chosen.taken), *fixed])
