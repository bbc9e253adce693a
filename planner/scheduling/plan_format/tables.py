"""The fields of a bay plan, each with its shape, its bounds and its meaning."""

from planner.domain.plan import PlanStatus
from planner.scheduling.plan_format.figures import Figure
from planner.scheduling.problem_format.tables import NAME, NAMES, PLANNED_STAGES, SPAN_FIELDS
from planner.scheduling.shapes import Choice, Constant, Field, ListOf, Record, Text, Whole

PLAN_FORMAT = "bay-plan/1"
TEMPLATE = "template"
"""The figure of a reason that holds its message with `{name}` or `{name:kind}` for the other figures."""
MOST_SCORE = 10**15

SCORE = Record(
    title="a score",
    fields={
        "lateness": Field(
            shape=Whole(least=0, most=MOST_SCORE), about="sum of priority × late minutes [weighted min]"
        ),
        "flow": Field(
            shape=Whole(least=-MOST_SCORE, most=MOST_SCORE), about="sum of the planned jobs' ends [min]"
        ),
    },
)

REASON = Record(
    title="a reason",
    fields={"code": Field(shape=NAME), "message": Field(shape=Text(most=1000))},
    others=Figure(),
)

PLANNED_JOB = Record(title="a planned job", fields={"id": Field(shape=NAME), "stages": PLANNED_STAGES})

UNPLANNED_JOB = Record(
    title="a job left out",
    fields={"job": Field(shape=NAME), "reasons": Field(shape=ListOf(item=REASON, least=1, most=100))},
)

WATCH = Record(
    title="a watch",
    fields={"technician": Field(shape=NAME), **SPAN_FIELDS, "jobs": Field(shape=NAMES)},
)

PLAN = Record(
    title="a bay plan",
    fields={
        "format": Field(shape=Constant(PLAN_FORMAT)),
        "problem_sha256": Field(
            shape=Text(most=64, pattern="^[0-9a-f]{64}$", asks="must be 64 hexadecimal digits"),
            about="of the problem file's bytes",
        ),
        "status": Field(shape=Choice(PlanStatus)),
        "score": Field(shape=SCORE),
        "bound": Field(shape=Whole(least=0, most=MOST_SCORE), about="a proven lower bound on the lateness"),
        "jobs": Field(shape=ListOf(item=PLANNED_JOB, most=5000)),
        "unplanned": Field(shape=ListOf(item=UNPLANNED_JOB, most=5000)),
        "watch": Field(shape=ListOf(item=WATCH, most=100_000)),
    },
)
