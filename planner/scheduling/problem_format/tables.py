"""The fields of a bay problem, each with its shape, its bounds and its meaning."""

from planner.domain.work import StageKind
from planner.scheduling.shapes import (
    Choice,
    Constant,
    Field,
    Flag,
    ListOf,
    MapOf,
    Minutes,
    Moment,
    Nullable,
    Number,
    Record,
    Text,
    Whole,
)

PROBLEM_FORMAT = "bay-problem/1"

NAME = Text()
NAMES = ListOf(item=NAME, most=1000, unique=True)

SPAN_FIELDS = {
    "start": Field(shape=Moment(), about="the first minute of it"),
    "end": Field(shape=Moment(), about="the first minute after it"),
}
SPAN = Record(title="a span", fields=SPAN_FIELDS)
CLOSED = Field(shape=ListOf(item=SPAN, most=2000), required=False, default=(), about="when it cannot be used")

SHIFT = Record(
    title="a shift",
    fields={
        **SPAN_FIELDS,
        "breaks": Field(
            shape=ListOf(item=SPAN, most=50), required=False, default=(), about="breaks inside the shift"
        ),
    },
)

TECHNICIAN = Record(
    title="a technician",
    fields={
        "id": Field(shape=NAME),
        "skills": Field(shape=NAMES, about="names that the site chooses"),
        "shifts": Field(shape=ListOf(item=SHIFT, most=2000)),
    },
)

POSITION = Record(
    title="a position",
    fields={
        "id": Field(shape=NAME),
        "kinds": Field(shape=NAMES, about="names that the site chooses, such as prep or cure"),
        "closed": CLOSED,
    },
)

HEATER_SET = Record(
    title="a heater set",
    fields={
        "id": Field(shape=NAME),
        "channels": Field(
            shape=Whole(least=0, most=10_000), about="controller outlets that it takes while energised"
        ),
        "power_kw": Field(shape=Number(least=0, most=100_000), about="its draw while energised [kW]"),
        "turnaround_minutes": Field(
            shape=Minutes(), about="free for so long after each block [min]; rounded up"
        ),
        "closed": CLOSED,
    },
)

RULES = Record(
    title="the rules",
    fields={
        "cures_per_attendant": Field(
            shape=Whole(least=1, most=1000), about="tyres one attendant may watch at the same moment"
        ),
        "watch_skill": Field(shape=NAME, about="the skill that an attendant needs"),
        "attendant_may_work": Field(shape=Flag(), about="hands-on work while attending is allowed"),
        "watch_through_breaks": Field(shape=Flag(), about="attending during one's own break is allowed"),
        "watch_cool_down": Field(shape=Flag(), about="pressurised stages are watched as energised ones are"),
        "handover_allowed": Field(shape=Flag(), about="the watch over one tyre may change hands"),
        "power_limit_kw": Field(
            shape=Nullable(Number(least=0, most=1e6)), about="for all sets together [kW]; null for none"
        ),
        "channel_limit": Field(
            shape=Nullable(Whole(least=0, most=100_000)), about="for all sets together; null for none"
        ),
    },
)

STAGE = Record(
    title="a stage",
    fields={
        "name": Field(shape=NAME, about="unique in its job"),
        "kind": Field(shape=Choice(StageKind)),
        "minutes": Field(shape=Minutes(above=0), about="the work [min]; rounded up"),
        "crew": Field(
            shape=Nullable(Whole(least=0, most=1000)), required=False, about="hands-on only: how many"
        ),
        "skill": Field(shape=Nullable(NAME), required=False, about="hands-on only: what all of them need"),
        "pausable": Field(
            shape=Flag(), required=False, default=False, about="hands-on only: stops in its crew's breaks"
        ),
        "block": Field(shape=Flag(), required=False, default=False, about="part of the heat block"),
        "place": Field(shape=Nullable(NAME), required=False, about="a kind of position, or null"),
        "min_wait_after": Field(
            shape=Nullable(Minutes()), required=False, about="least wait to the next stage [min]; rounded up"
        ),
        "max_wait_after": Field(
            shape=Nullable(Minutes(down=True)), required=False, about="greatest wait [min]; rounded down"
        ),
    },
)

JOB = Record(
    title="a job",
    fields={
        "id": Field(shape=NAME),
        "priority": Field(shape=Whole(least=1, most=100), about="the weight of a late minute"),
        "released_at": Field(shape=Moment(), about="no stage before it"),
        "needed_by": Field(shape=Moment()),
        "after": Field(shape=NAMES, required=False, default=(), about="jobs that end before this one starts"),
        "heater_sets": Field(shape=NAMES, required=False, about="the eligible ones; needed with a block"),
        "positions": Field(
            shape=MapOf(key=NAME, value=NAMES, most=100),
            required=False,
            about="the eligible ones by kind; needed with a place",
        ),
        "stages": Field(shape=ListOf(item=STAGE, least=1, most=100), about="in their order"),
    },
)

PLANNED_STAGE = Record(
    title="a planned stage",
    fields={
        "name": Field(shape=NAME),
        **SPAN_FIELDS,
        "technicians": Field(shape=NAMES, required=False, default=(), about="hands-on only"),
        "position": Field(shape=Nullable(NAME), required=False),
        "heater_set": Field(shape=Nullable(NAME), required=False),
    },
)
PLANNED_STAGES = Field(shape=ListOf(item=PLANNED_STAGE, least=1, most=100))

LOCKED = Record(title="a locked job", fields={"job": Field(shape=NAME), "stages": PLANNED_STAGES})

PROBLEM = Record(
    title="a bay problem",
    fields={
        "format": Field(shape=Constant(PROBLEM_FORMAT)),
        "time_zone": Field(shape=Text(most=64), about="IANA name, for reading only"),
        "horizon": Field(shape=SPAN, about="nothing unlocked starts before it, nothing ends after it"),
        "grid_minutes": Field(
            shape=Whole(least=1, most=60), about="planned times are multiples of it from the start [min]"
        ),
        "rules": Field(shape=RULES),
        "technicians": Field(shape=ListOf(item=TECHNICIAN, most=1000)),
        "positions": Field(shape=ListOf(item=POSITION, most=2000)),
        "heater_sets": Field(shape=ListOf(item=HEATER_SET, most=1000)),
        "power_off": Field(
            shape=ListOf(item=SPAN, most=2000), required=False, default=(), about="isolations of the supply"
        ),
        "jobs": Field(shape=ListOf(item=JOB, most=5000)),
        "locked": Field(
            shape=ListOf(item=LOCKED, most=5000), required=False, default=(), about="stages that stand fixed"
        ),
    },
)
