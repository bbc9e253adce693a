"""Position: one eligible position for a whole stay, waits included, one job at a time."""

from planner.solver.door import cp_model
from planner.solver.model import BayModel
from planner.solver.places import PlacePool
from planner.solver.rules.rule import Rule


class Position(Rule):
    """No pool of positions holds more tyres at once than it has positions."""

    stem = "position"

    def post(self, model: BayModel) -> None:
        """A cumulative for each pool."""
        for pool, room in zip(model.state.bay.positions, model.state.position_rooms, strict=True):
            stays = _stays(model, pool)
            model.add_cumulative(stays, [1] * len(stays), room)


def _stays(model: BayModel, pool: PlacePool) -> list[cp_model.IntervalVar]:
    return [
        model.interval(job, stay, chosen.taken)
        for job in model.jobs.values()
        for stay, pools in job.stays.items()
        if not job.is_given(stay)
        for chosen in pools
        if chosen.pool.id == pool.id
    ]
