"""Why a job cannot be done even with the bay to itself: one cause after the other, each tested by itself."""

from collections.abc import Callable, Iterator

from planner.domain.plan import Reason
from planner.domain.sentences import _
from planner.domain.work import Stage, StageKind
from planner.solver.attendance import watched_runs
from planner.solver.build import open_starts
from planner.solver.choices import position_choices, set_choices
from planner.solver.masks import Mask, first_of, runs
from planner.solver.pieces import TyreWork, steps_up
from planner.solver.reasons.words import local_time
from planner.solver.rules import ALL
from planner.solver.rules.power import power_draw, power_limit
from planner.solver.state import BayState


def impossible_reasons(state: BayState, work: TyreWork) -> tuple[Reason, ...]:
    """Every cause that by itself keeps the job out of an empty bay, else the rules that should give."""
    found = tuple(reason for test in _TESTS for reason in test(state, work))
    return found or tuple(_by_rule(state, work)) or (_nothing_fits(state, work),)


def _no_place(state: BayState, work: TyreWork) -> Iterator[Reason]:
    if work.job.block and not set_choices(state, work):
        yield Reason(code="no_heater_set", message=_("No heater set of this bay fits this tyre and damage."))
    for stay in work.job.stays():
        if not position_choices(state, work, stay):
            kind = work.job.stages[stay.start].place
            yield Reason(
                code="no_position",
                message=_("No floor position of kind {kind} may take this tyre.", kind=kind),
            )


def _crew(state: BayState, work: TyreWork) -> Iterator[Reason]:
    told: set[tuple[str | None, int]] = set()
    for stage in work.job.stages:
        if stage.kind is not StageKind.HANDS_ON or (stage.skill, stage.crew) in told:
            continue
        told.add((stage.skill, stage.crew))
        most = _most_together(state, stage)
        if most == 0:
            yield Reason(
                code="no_skill",
                message=_(
                    "Nobody on shift has the skill {skill}, which {stage} needs.",
                    skill=stage.skill,
                    stage=stage.name,
                ),
            )
        elif most < stage.crew:
            yield Reason(
                code="crew_too_small",
                message=_(
                    "{stage} needs {needed} people with the skill {skill}; at most {most_on_shift} are on "
                    "shift at once.",
                    stage=stage.name,
                    needed=stage.crew,
                    skill=stage.skill,
                    most_on_shift=most,
                ),
            )


def _most_together(state: BayState, stage: Stage) -> int:
    supply = [
        (window.start, window.end, len(window.technicians))
        for pool in state.bay.crews
        if stage.skill in pool.skills
        for window in pool.windows
    ]
    return state.room(supply, []).most


def _block_waits(state: BayState, work: TyreWork) -> Iterator[Reason]:
    for index in work.job.block[:-1]:
        stage = work.job.stages[index]
        if stage.min_wait_after:
            yield Reason(
                code="waits",
                message=_(
                    "{stage} asks for a wait of {minutes:duration} inside the heat block, which must not be "
                    "interrupted.",
                    stage=stage.name,
                    minutes=stage.min_wait_after,
                ),
            )


def _attended(state: BayState, work: TyreWork) -> Iterator[Reason]:
    present = 0
    for mask in state.bay.on_watch.values():
        present |= mask
    longest = _longest(present)
    for run in watched_runs(state, work):
        needed = sum(steps_up(state.bay.problem, work.job.stages[stage].minutes) for stage in run)
        if needed > longest:
            yield _too_short(state, needed * state.bay.grid, longest * state.bay.grid)


def _too_short(state: BayState, needed: int, longest: int) -> Reason:
    nobody = _(
        "The heat block needs {needed_min:duration} attended without a gap; nobody with the skill {skill} "
        "is there.",
        needed_min=needed,
        skill=state.bay.problem.rules.watch_skill,
    )
    too_short = _(
        "The heat block needs {needed_min:duration} attended without a gap; the longest attended time is "
        "{longest_min:duration}.",
        needed_min=needed,
        longest_min=longest,
    )
    return Reason(
        code="attended_window_too_short",
        message=too_short if longest else nobody,
        figures={"needed_min": needed, "longest_min": longest, "missing_min": needed - longest},
    )


def _longest(mask: Mask) -> int:
    return max((last - first for first, last in runs(mask)), default=0)


def _shift(state: BayState, work: TyreWork) -> Iterator[Reason]:
    for stage in work.job.stages:
        if not stage.crew or stage.skill is None:
            continue
        windows = [w for pool in state.bay.crews if stage.skill in pool.skills for w in pool.windows]
        spare = (w.at_work.bit_count() if stage.pausable else _longest(w.at_work) for w in windows)
        longest = max(spare, default=0) * state.bay.grid
        if 0 < longest < stage.minutes:
            yield Reason(
                code="shift_too_short",
                message=_(
                    "{stage} takes {needed_min:duration} in one shift; the longest stretch of work that "
                    "anybody with the skill {skill} has is {longest_min:duration}.",
                    stage=stage.name,
                    needed_min=stage.minutes,
                    skill=stage.skill,
                    longest_min=longest,
                ),
            )


def _supply(state: BayState, work: TyreWork) -> Iterator[Reason]:
    pools, rules = set_choices(state, work), state.bay.problem.rules
    limit = power_limit(state)
    if pools and limit is not None and min(power_draw(pool) for pool in pools) > limit:
        least = min(pool.power_kw for pool in pools)
        yield Reason(
            code="power",
            message=_(
                "The smallest set that fits draws {needed_kw:g} kW; the supply carries {limit_kw:g} kW.",
                needed_kw=least,
                limit_kw=rules.power_limit_kw,
            ),
        )
    if (
        pools
        and rules.channel_limit is not None
        and min(pool.channels for pool in pools) > rules.channel_limit
    ):
        channels = min(pool.channels for pool in pools)
        yield Reason(
            code="channels",
            message=_(
                "The smallest set that fits takes {needed} channels; there are {limit}.",
                needed=channels,
                limit=rules.channel_limit,
            ),
        )


_TESTS: tuple[Callable[[BayState, TyreWork], Iterator[Reason]], ...] = (
    _no_place,
    _crew,
    _block_waits,
    _attended,
    _shift,
    _supply,
)

_GIVING = {
    "closures": ("set_closed", _("Closures of its heater sets or positions leave no room for it.")),
    "power_off": ("power_off", _("Isolations of the supply leave no room for its cure.")),
    "watch": ("attended_window_too_short", _("Its cure does not fit into the time that is attended.")),
    "handover": (
        "handover",
        _("No one attendant is there for the whole of its watch, and it may not be handed over."),
    ),
    "shift": ("no_crew_time", _("Its crews are not on shift at the times that it would need.")),
    "power": ("power", _("Work in hand leaves too little power for it.")),
    "channels": ("channels", _("Work in hand leaves too few channels for it.")),
    "attendant_load": ("watch_full", _("Work in hand leaves no attendant for it.")),
}


def _by_rule(state: BayState, work: TyreWork) -> Iterator[Reason]:
    """Take one rule away at a time: where the job then fits, that rule is what keeps it out."""
    yield from _late_release(state, work)
    for stem, (code, what) in _GIVING.items():
        reach = open_starts(state, work, [rule for rule in ALL if rule.stem != stem])
        if reach is not None:
            ready = first_of(reach[-1].ends()) * state.bay.grid
            yield Reason(
                code=code,
                message=_(
                    "{what:phrase} Without that it could be ready no sooner than {ready:moment}.",
                    what=what,
                    ready=local_time(state.bay.problem, ready),
                ),
                figures={"ready_min": ready},
            )


def _late_release(state: BayState, work: TyreWork) -> Iterator[Reason]:
    reach = open_starts(state, work, [rule for rule in ALL if rule.stem != "release"])
    if reach is None or work.job.released_at <= 0:
        return
    problem, first = state.bay.problem, reach[0]
    latest = max(last for _first, last in runs(first.starts)) - 1
    yield Reason(
        code="horizon_too_short",
        message=_(
            "It is released {released:moment}; to be ready before the plan ends it would have to "
            "start by {latest_start:moment}.",
            released=local_time(problem, work.job.released_at),
            latest_start=local_time(problem, latest * state.bay.grid),
        ),
        figures={"released_min": work.job.released_at, "latest_start_min": latest * state.bay.grid},
    )


def _nothing_fits(state: BayState, work: TyreWork) -> Reason:
    """No single rule is to blame: the first stage that finds no time by itself, or the whole chain."""
    problem, opening = state.bay.problem, max(work.job.released_at, 0)
    least = (
        sum(stage.minutes + stage.min_wait_after for stage in work.job.stages[:-1])
        + work.job.stages[-1].minutes
    )
    return Reason(
        code="horizon_too_short",
        message=_(
            "Its work and waits take at least {needed_min:duration} and do not fit into the shifts, "
            "attended times and waits between {opening:moment} and the plan's end.",
            needed_min=least,
            opening=local_time(problem, opening),
        ),
        figures={"open_min": problem.horizon_end - opening},
    )
