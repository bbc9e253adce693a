"""Waits: the least and the greatest time between neighbouring stages of a job."""

from planner.solver.model import BayModel, JobVariables
from planner.solver.rules.rule import Rule


class Waits(Rule):
    """A stage starts within the waits that the stage before asks."""

    stem = "waits"

    def post(self, model: BayModel) -> None:
        """Tie each stage's start to the end before it; locked neighbours have narrowed the starts already."""
        for job in model.jobs.values():
            for wait in job.work.waits:
                if not {wait.after, wait.after + 1} & job.work.locked.keys():
                    _tie(model, job, wait.after, wait.least, wait.most)


def _tie(model: BayModel, job: JobVariables, stage: int, least: int, most: int | None) -> None:
    gap = model.start(job, stage + 1) - model.end(job, stage)
    if most is None:
        model.cp.add(gap >= least).only_enforce_if(job.planned)
    else:
        model.cp.add_linear_constraint(gap, least, most).only_enforce_if(job.planned)
