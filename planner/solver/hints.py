"""Tell the solver a plan to start from."""

from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.solver.extract import by_job
from planner.solver.model import BayModel, ChosenPool, JobVariables


def hint(model: BayModel, schedule: Schedule) -> None:
    """Hint every free job as the schedule has it, or as left out."""
    planned = by_job(schedule)
    watch = {job: entry.technician for entry in schedule.watch for job in entry.jobs}
    model.cp.clear_hints()  # type: ignore[no-untyped-call]
    for id_, job in model.jobs.items():
        if job.planned is not model.always:
            model.cp.add_hint(job.planned, id_ in planned)
        if id_ in planned:
            _hint_job(model, job, planned[id_])
            for index, taken in job.attendants.items():
                model.cp.add_hint(taken, watch.get(id_) in model.groups[index].technicians)


def _hint_job(model: BayModel, job: JobVariables, planned: PlannedJob) -> None:
    for stage, start in job.starts.items():
        model.cp.add_hint(start, planned.stages[stage].start // model.grid)
    for stage in job.crews:
        _hint_crew(model, job, stage, planned.stages[stage])
    if job.sets:
        _hint_pool(model, job, job.sets, planned.stages[job.work.job.block[0]].heater_set)
    for stay, pools in job.stays.items():
        _hint_pool(model, job, pools, planned.stages[stay.start].position)


def _hint_crew(model: BayModel, job: JobVariables, stage: int, planned: PlannedStage) -> None:
    pools = tuple(sorted(model.state.pools_of(planned)))
    elapsed = (planned.end - planned.start) // model.grid
    for entry in job.crews[stage]:
        if entry.taken is not job.planned:
            taken = entry.choice.crew.pools == pools and entry.choice.elapsed == elapsed
            model.cp.add_hint(entry.taken, taken)


def _hint_pool(model: BayModel, job: JobVariables, pools: tuple[ChosenPool, ...], name: str | None) -> None:
    for entry in pools:
        if entry.taken is not job.planned:
            model.cp.add_hint(entry.taken, name in entry.pool.members)
