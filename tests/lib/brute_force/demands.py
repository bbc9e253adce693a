"""What one placed job takes from the bay, minute by minute."""

from collections import defaultdict
from dataclasses import dataclass, field

from planner.domain.problem import BayProblem
from planner.domain.work import Job, StageKind
from tests.lib.brute_force.minutes import minutes
from tests.lib.brute_force.placements import Placement


@dataclass(slots=True)
class Demands:
    """The minutes of a placed job on each thing that serves one job at a time, and its hot minutes."""

    job: Job
    placement: Placement
    held: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    busy: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    watched: int = 0
    energised: int = 0

    def clashes(self, other: "Demands") -> bool:
        """Whether two jobs want one thing in the same minute."""
        return any(mine & other.held[name] for name, mine in self.held.items() if name in other.held)


def demands(problem: BayProblem, job: Job, placement: Placement) -> Demands:
    """What the placed job takes."""
    result = Demands(job, placement)
    future = minutes(0, problem.horizon_end)
    for stage, planned in zip(job.stages, placement, strict=True):
        inside = minutes(planned.start, planned.end)
        for name in planned.technicians:
            result.held[f"technician {name}"] |= inside
            result.busy[name] |= inside
        cooling = stage.kind is StageKind.PRESSURISED and problem.rules.watch_cool_down
        if stage.kind is StageKind.ENERGISED or cooling:
            result.watched |= inside & future
        if stage.kind is StageKind.ENERGISED:
            result.energised |= inside
    _holdings(problem, result)
    return result


def _holdings(problem: BayProblem, result: Demands) -> None:
    for run in result.job.stays():
        stay = result.placement[run.start : run.stop]
        result.held[f"position {stay[0].position}"] |= minutes(stay[0].start, stay[-1].end)
    block = [planned for planned in result.placement if planned.heater_set]
    if block:
        used = next(one for one in problem.heater_sets if one.id == block[0].heater_set)
        free = block[-1].end + used.turnaround_minutes
        result.held[f"set {used.id}"] |= minutes(block[0].start, free)
