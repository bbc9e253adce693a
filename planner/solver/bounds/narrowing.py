"""What prices rule out: jobs that a good plan must or cannot hold, and ends that none of its jobs has.

At any prices a plan's lateness is at least the sum of what its jobs' courses cost, less what the supply
fetches. Where one job's course costs so much more than that job's least price that even with the least
prices of all others the sum is above `at_most`, no plan with that lateness or less holds the course. So
the rest of the search, which has such a plan already, may leave it aside and still prove the least.
Where the prices are for lateness and flow together, so are the sum and `at_most`.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.solver.masks import Mask
from planner.solver.model import BayModel


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrowing:
    """True of every plan whose lateness (or sum) is `at_most` or less; `bound` is true of every plan.

    `starts` has, for each job that may be planned, the steps at which each of its pieces may start.
    """

    at_most: int
    bound: int
    must: frozenset[str]
    never: frozenset[str]
    starts: Mapping[str, tuple[Mask, ...]]

    def post(self, model: BayModel) -> None:
        """Narrow the model; a plan at `at_most` or better that it had, it still has."""
        for id_, job in model.jobs.items():
            if id_ in self.must:
                model.cp.add(job.planned == 1)
            elif id_ in self.never:
                model.cp.add(job.planned == 0)
            if id_ in self.starts and id_ not in self.never:
                for piece, steps in zip(job.work.pieces, self.starts[id_], strict=True):
                    model.starts_in(job.starts[piece.stages.start], steps, job.planned)
