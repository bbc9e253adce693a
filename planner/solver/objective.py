"""What a plan costs: lateness first, then flow [priority-weighted min, min]."""

from dataclasses import dataclass

from planner.domain.plan import Schedule, Score
from planner.domain.problem import BayProblem
from planner.domain.work import Job
from planner.solver.door import cp_model
from planner.solver.model import BayModel, JobVariables, Step
from planner.solver.state import BayState


def lateness_left_out(problem: BayProblem, job: Job) -> int:
    """What a job costs that is not planned [priority-weighted min]."""
    return job.priority * (max(0, problem.horizon_end - job.needed_by) + problem.horizon_end)


def lateness_at(job: Job, end: int) -> int:
    """What a planned job costs that ends at that minute [priority-weighted min]."""
    return job.priority * max(0, end - job.needed_by)


def standing_score(state: BayState) -> Score:
    """What the jobs cost that are not free: held ones as they stand, all others as left out."""
    free = {work.job.id for work in state.free}
    ends = {job.id: job.end for job in state.held}
    lateness = sum(
        lateness_at(job, ends[job.id]) if job.id in ends else lateness_left_out(state.bay.problem, job)
        for job in state.bay.problem.jobs
        if job.id not in free
    )
    return Score(lateness=lateness, flow=sum(ends.values()))


@dataclass(frozen=True, kw_only=True)
class Objective:
    """The two parts of the score as expressions over a model, what is not free included."""

    lateness: Step
    flow: Step


def objective_of(model: BayModel) -> Objective:
    """The score of a model."""
    standing, problem = standing_score(model.state), model.state.bay.problem
    lateness: list[Step] = [standing.lateness]
    flow: list[Step] = [standing.flow]
    for work in model.state.free:
        left_out = lateness_left_out(problem, work.job)
        job = model.jobs.get(work.job.id)
        if job is None:
            lateness.append(left_out)
            continue
        late, end = _late_and_end(model, job)
        lateness.append(work.job.priority * late + left_out * (1 - job.planned))
        flow.append(end)
    return Objective(lateness=cp_model.LinearExpr.sum(lateness), flow=cp_model.LinearExpr.sum(flow))


def _late_and_end(model: BayModel, job: JobVariables) -> tuple[Step, Step]:
    """Late minutes and the last end [min], both 0 where the job is not planned."""
    stages, needed_by = job.work.job.stages, job.work.job.needed_by
    last = len(stages) - 1
    if last in job.work.locked:
        end = job.work.locked[last].end
        return max(0, end - needed_by), end
    ends = model.ends_of(job)
    planned_end = model.cp.new_int_var(0, ends[1], "")
    model.cp.add(planned_end >= model.grid * model.end(job, last)).only_enforce_if(job.planned)
    model.cp.add(planned_end >= ends[0]).only_enforce_if(job.planned)
    if ends[1] <= needed_by:
        return 0, planned_end
    late = model.cp.new_int_var(0, ends[1] - needed_by, "")
    model.cp.add(late >= model.grid * model.end(job, last) - needed_by).only_enforce_if(job.planned)
    if ends[0] > needed_by:
        model.cp.add(late >= (ends[0] - needed_by) * job.planned)
    return late, planned_end


def schedule_lateness(problem: BayProblem, schedule: Schedule) -> int:
    """The lateness of a whole schedule [priority-weighted min]."""
    ends = {job.id: job.end for job in schedule.jobs}
    return sum(
        lateness_at(job, ends[job.id]) if job.id in ends else lateness_left_out(problem, job)
        for job in problem.jobs
    )


def schedule_score(problem: BayProblem, schedule: Schedule) -> Score:
    """Lateness and flow of a whole schedule."""
    flow = sum(job.end for job in schedule.jobs)
    return Score(lateness=schedule_lateness(problem, schedule), flow=flow)
