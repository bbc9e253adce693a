"""A new plan that keeps what it can of the published one."""

from planner.domain.plan import PlannedJob, Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.solver.bay import bay_of
from planner.solver.build import build_model, whole_state
from planner.solver.door import cp_model
from planner.solver.extract import by_job, schedule_from
from planner.solver.hints import hint
from planner.solver.limits import SolveLimits
from planner.solver.model import BayModel, JobVariables, Literal
from planner.solver.objective import objective_of
from planner.solver.run import run

GIVEN_UP = 240
"""What taking out a job that was promised counts, as minutes of one stage moved."""


def replan(
    problem: BayProblem,
    published: Schedule,
    *,
    stability: int,
    start: Schedule | None = None,
    limits: SolveLimits,
    stop: StopSignal | None = None,
) -> Schedule | None:
    """The best plan where each minute that a stage moves costs `stability` hundredths of a late minute.

    Technicians, positions and sets keep their names where they are free. With a stability of 0 only the
    score counts. None where nothing was found in time or locked work breaks a rule.
    """
    model = build_model(whole_state(bay_of(problem)))
    objective, promised = objective_of(model), by_job(published)
    moved = _moved(model, promised)
    flow_weight = len(problem.jobs) * problem.horizon_end + 1
    model.cp.minimize(flow_weight * (100 * objective.lateness + stability * moved) + objective.flow)
    hint(model, start or published)
    found = run(model.cp, limits, stop, quick=True)
    return schedule_from(model, found.solver, promised) if found.has_plan else None


def _moved(model: BayModel, promised: dict[str, PlannedJob]) -> cp_model.LinearExpr:
    """Minutes that stages start away from the published plan, and a toll for jobs that are given up."""
    terms: list[cp_model.LinearExpr | int] = [0]
    for id_, job in model.jobs.items():
        if id_ not in promised:
            continue
        terms.append(GIVEN_UP * (1 - job.planned))
        was = promised[id_].stages
        terms.extend(_distance(model, job, stage, was[stage].start, job.planned) for stage in job.starts)
    return cp_model.LinearExpr.sum(terms)


def _distance(model: BayModel, job: JobVariables, stage: int, was: int, planned: Literal) -> cp_model.IntVar:
    apart = model.cp.new_int_var(0, model.state.bay.problem.horizon_end + abs(was), "")
    start = model.grid * job.starts[stage]
    model.cp.add(apart >= start - was).only_enforce_if(planned)
    model.cp.add(apart >= was - start).only_enforce_if(planned)
    return apart
