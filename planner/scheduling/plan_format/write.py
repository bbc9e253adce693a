"""The canonical writer of `bay-plan/1`."""

from planner.domain.plan import BayPlan, Reason
from planner.domain.problem import BayProblem
from planner.scheduling.plan_format.tables import PLAN_FORMAT, TEMPLATE
from planner.scheduling.problem_format.write import Table, json_write, planned_stage_table, stamp_for


def plan_write(plan: BayPlan, problem: BayProblem) -> bytes:
    """The plan as UTF-8 JSON, times on the clock of the problem's time zone."""
    return json_write(_plan(plan, problem))


def _plan(plan: BayPlan, problem: BayProblem) -> Table:
    stamp = stamp_for(problem)
    return {
        "format": PLAN_FORMAT,
        "problem_sha256": plan.problem_sha256,
        "status": plan.status.value,
        "score": {"lateness": plan.score.lateness, "flow": plan.score.flow},
        "bound": plan.bound,
        "jobs": [
            {"id": job.id, "stages": [planned_stage_table(stage, stamp) for stage in job.stages]}
            for job in plan.schedule.jobs
        ],
        "unplanned": [
            {"job": left_out.job, "reasons": [_reason(reason) for reason in left_out.reasons]}
            for left_out in plan.unplanned
        ],
        "watch": [
            {
                "technician": watch.technician,
                "start": stamp(watch.span.start),
                "end": stamp(watch.span.end),
                "jobs": list(watch.jobs),
            }
            for watch in plan.schedule.watch
        ],
    }


def _reason(reason: Reason) -> Table:
    told = {**reason.figures, "code": reason.code, "message": str(reason.message)}
    template = reason.message.template
    # A template without figures is the message itself.
    return told if template == reason.message else {**told, TEMPLATE: template}
