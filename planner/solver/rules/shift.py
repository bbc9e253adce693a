"""Shift: each of a crew is on one shift throughout the stage, at work when it starts and when it ends."""

from planner.solver.choices import crew_choices, stage_starts
from planner.solver.masks import Mask
from planner.solver.model import BayModel
from planner.solver.pieces import Piece
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


class Shift(Rule):
    """A stage starts when the crew that takes it can do all of it."""

    stem = "shift"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps at which every hands-on stage of the piece finds some crew."""
        mask = state.bay.whole
        for stage in piece.stages:
            if state.bay.works[piece.job].job.stages[stage].crew:
                found = 0
                for choice in crew_choices(state, piece, stage):
                    found |= choice.starts
                mask &= stage_starts(piece, stage, found)
        return mask

    def post(self, model: BayModel) -> None:
        """Each choice of crew brings its own steps."""
        for job in model.jobs.values():
            for stage, chosen in job.crews.items():
                for entry in chosen:
                    model.starts_in(model.start(job, stage), entry.choice.starts, entry.taken)
