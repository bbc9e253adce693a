"""What the solver answers."""

from dataclasses import dataclass

from planner.domain.plan import PlanStatus, Schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """The best plan found, a proven lower bound on the lateness of any plan, and what is known of this one.

    `status` is `optimal` only where both the lateness and, at that lateness, the flow are proven least.
    """

    schedule: Schedule
    bound: int
    status: PlanStatus
