"""Read a solved model back into a schedule with names."""

from planner.domain.plan import PlannedJob, Schedule
from planner.solver.door import cp_model
from planner.solver.draft import DraftJob, Wanted, named_jobs
from planner.solver.model import BayModel, ChosenPool, JobVariables
from planner.solver.places import PlacePool
from planner.solver.state import BayState, Standing
from planner.solver.watching import watch_of


def schedule_from(model: BayModel, solver: cp_model.CpSolver, wanted: Wanted) -> Schedule:
    """The whole schedule, held jobs included; names as in `wanted` where they are free."""
    planned = [job for job in model.jobs.values() if solver.boolean_value(job.planned)]
    drafts = [_draft(model, solver, job) for job in planned]
    drafts += [_held_draft(model.state, standing) for standing in model.state.taken]
    jobs = named_jobs(model.state, drafts, wanted | {job.id: job for job in model.state.held})
    attendants = {
        job.work.job.id: model.groups[index].technicians
        for job in planned
        for index, taken in job.attendants.items()
        if solver.boolean_value(taken)
    }
    return Schedule(jobs=jobs, watch=watch_of(model.state.bay, jobs, attendants | _held_attendants(model)))


def _held_attendants(model: BayModel) -> dict[str, tuple[str, ...]]:
    return {
        job: next(group.technicians for group in model.groups if technician in group.technicians)
        for job, technician in model.state.held_watch.items()
    }


def _draft(model: BayModel, solver: cp_model.CpSolver, job: JobVariables) -> DraftJob:
    grid, locked = model.grid, job.work.locked
    return DraftJob(
        job=job.work.job,
        times=tuple(
            (locked[stage].start, locked[stage].end)
            if stage in locked
            else (grid * solver.value(model.start(job, stage)), grid * solver.value(model.end(job, stage)))
            for stage in range(len(job.work.job.stages))
        ),
        locked=locked,
        crews={
            stage: next(entry.choice.crew.pools for entry in chosen if solver.boolean_value(entry.taken))
            for stage, chosen in job.crews.items()
        },
        positions={stay.start: _taken(solver, pools) for stay, pools in job.stays.items()},
        heater_set=_taken(solver, job.sets) if job.sets else None,
    )


def _taken(solver: cp_model.CpSolver, pools: tuple[ChosenPool, ...]) -> PlacePool:
    return next((entry.pool for entry in pools if solver.boolean_value(entry.taken)), pools[0].pool)


def _held_draft(state: BayState, standing: Standing) -> DraftJob:
    stages, job = standing.stages, standing.job
    locked = state.bay.works[job.id].locked
    heater_sets = {stage.heater_set for stage in stages.values()} - {None}
    return DraftJob(
        job=job,
        times=tuple((stages[index].start, stages[index].end) for index in range(len(job.stages))),
        locked=locked,
        crews={
            index: tuple(state.pools_of(stage))
            for index, stage in stages.items()
            if stage.technicians and index not in locked
        },
        positions={
            stay.start: next(
                pool for pool in state.bay.positions if stages[stay.start].position in pool.members
            )
            for stay in job.stays()
        },
        heater_set=next((pool for pool in state.bay.sets if heater_sets & set(pool.members)), None),
    )


def by_job(schedule: Schedule | None) -> dict[str, PlannedJob]:
    """The jobs of a schedule by id."""
    return {} if schedule is None else {job.id: job for job in schedule.jobs}
