"""After: earlier jobs of the same tyre are planned and over before a job starts."""

from planner.solver.model import BayModel, JobVariables, Step
from planner.solver.rules.rule import Rule


class After(Rule):
    """A job follows every job that it names."""

    stem = "after"

    def post(self, model: BayModel) -> None:
        """A held predecessor sets a start; one that is neither held nor free leaves the job out."""
        held = {job.id: -(-job.end // model.grid) for job in model.state.held}
        for job in model.jobs.values():
            for earlier in job.work.job.after:
                if earlier in model.jobs:
                    _follow(model, job, model.jobs[earlier])
                elif earlier in held:
                    _start_from(model, job, held[earlier])
                else:
                    model.cp.add_implication(job.planned, ~model.always)
        _end_before_held(model)


def _follow(model: BayModel, job: JobVariables, earlier: JobVariables) -> None:
    model.cp.add_implication(job.planned, earlier.planned)
    end = model.end(earlier, len(earlier.work.job.stages) - 1)
    _start_from(model, job, end)


def _start_from(model: BayModel, job: JobVariables, end: Step) -> None:
    model.cp.add(model.start(job, 0) - end >= 0).only_enforce_if(job.planned)


def _end_before_held(model: BayModel) -> None:
    for held in model.state.taken:
        for earlier in held.job.after:
            if earlier in model.jobs:
                job = model.jobs[earlier]
                last = len(job.work.job.stages) - 1
                model.cp.add(job.planned == 1)
                model.cp.add(model.end(job, last) <= held.stages[0].start // model.grid)
