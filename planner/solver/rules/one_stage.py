"""One stage: a technician does one hands-on stage at a time."""

from planner.solver.door import cp_model
from planner.solver.model import BayModel
from planner.solver.rules.rule import Rule


class OneStage(Rule):
    """No pool of technicians gives more of them at once than it has on shift."""

    stem = "one_stage"

    def post(self, model: BayModel) -> None:
        """A cumulative for each pool, its smaller windows filled up."""
        for pool, room in zip(model.state.bay.crews, model.state.crew_rooms, strict=True):
            model.add_cumulative(*_uses(model, pool.id), room)


def _uses(model: BayModel, pool: int) -> tuple[list[cp_model.IntervalVar], list[int]]:
    intervals, sizes = [], []
    for job in model.jobs.values():
        for stage, chosen in job.crews.items():
            for entry in chosen:
                if size := entry.choice.crew.drawn_from(pool):
                    intervals.append(model.crew_interval(job, stage, entry))
                    sizes.append(size)
    return intervals, sizes
