"""A plan as the model gives it: times and pools, not yet names."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.work import Job
from planner.solver.crews import CrewPool
from planner.solver.naming import Claim, share_out
from planner.solver.places import PlacePool
from planner.solver.state import BayState

Wanted = dict[str, PlannedJob]
"""Jobs as another plan has them, whose names are kept where they are free."""


@dataclass(frozen=True, kw_only=True)
class DraftJob:
    """One planned job: when each stage is, and from which pools it draws.

    `crews` by stage, `positions` by the first stage of a stay, `heater_set` for the block; locked stages
    keep their own names and stand in `locked`.
    """

    job: Job
    times: tuple[tuple[int, int], ...]
    locked: Mapping[int, PlannedStage]
    crews: Mapping[int, tuple[int, ...]]
    positions: Mapping[int, PlacePool]
    heater_set: PlacePool | None


def named_jobs(state: BayState, drafts: list[DraftJob], wanted: Wanted) -> tuple[PlannedJob, ...]:
    """The drafts with technicians, positions and sets by name, in the problem's order."""
    crews = share_out(claim for draft in drafts for claim in _crew_claims(state, draft, wanted))
    sets = share_out(claim for draft in drafts for claim in _set_claims(state, draft, wanted))
    positions = share_out(claim for draft in drafts for claim in _stay_claims(draft, wanted))
    by_stage: dict[tuple[str, int], list[str]] = {}
    for (job, stage, _), members in crews.items():
        by_stage.setdefault((job, stage), []).extend(members)
    named = {
        draft.job.id: _named(
            draft, by_stage, _by_job(sets), {key[:2]: one[0] for key, one in positions.items()}
        )
        for draft in drafts
    }
    return tuple(named[job.id] for job in state.bay.problem.jobs if job.id in named)


def _by_job(sets: Mapping[tuple[str, int, int], tuple[str, ...]]) -> dict[str, str]:
    return {key[0]: members[0] for key, members in sets.items()}


def _crew_claims(state: BayState, draft: DraftJob, wanted: Wanted) -> Iterator[Claim]:
    for stage, pools in draft.crews.items():
        start, end = draft.times[stage]
        for pool, count in Counter(pools).items():
            yield Claim(
                key=(draft.job.id, stage, pool),
                start=start,
                end=end,
                members=_on_shift(state.bay.crews[pool], start // state.bay.grid),
                count=count,
                wanted=_stage_of(wanted, draft, stage).technicians,
            )


def _on_shift(pool: CrewPool, step: int) -> tuple[str, ...]:
    here = next((window for window in pool.windows if window.start <= step < window.end), pool.windows[0])
    return here.technicians


def _set_claims(state: BayState, draft: DraftJob, wanted: Wanted) -> Iterator[Claim]:
    pool = draft.heater_set
    if pool is not None:
        block = draft.job.block
        turnaround = next(one.turnaround for one in state.bay.sets if one.id == pool.id) * state.bay.grid
        yield Claim(
            key=(draft.job.id, block[0], pool.id),
            start=draft.times[block[0]][0],
            end=draft.times[block[-1]][1] + turnaround,
            members=pool.members,
            wanted=_names(_stage_of(wanted, draft, block[0]).heater_set),
        )


def _stay_claims(draft: DraftJob, wanted: Wanted) -> Iterator[Claim]:
    for stay in draft.job.stays():
        pool = draft.positions[stay.start]
        yield Claim(
            key=(draft.job.id, stay.start, pool.id),
            start=draft.times[stay.start][0],
            end=draft.times[stay.stop - 1][1],
            members=pool.members,
            wanted=_names(_stage_of(wanted, draft, stay.start).position),
        )


def _stage_of(wanted: Wanted, draft: DraftJob, stage: int) -> PlannedStage:
    nothing = PlannedStage(name="", start=0, end=0)
    job = wanted.get(draft.job.id)
    return job.stages[stage] if job is not None and stage < len(job.stages) else nothing


def _names(name: str | None) -> tuple[str, ...]:
    return () if name is None else (name,)


def _named(
    draft: DraftJob,
    crews: Mapping[tuple[str, int], list[str]],
    sets: Mapping[str, str],
    positions: Mapping[tuple[str, int], str],
) -> PlannedJob:
    stay_of = {stage: stay.start for stay in draft.job.stays() for stage in stay}
    stages = []
    for index, spec in enumerate(draft.job.stages):
        start, end = draft.times[index]
        free = PlannedStage(
            name=spec.name,
            start=start,
            end=end,
            technicians=tuple(sorted(crews.get((draft.job.id, index), ()))),
            position=positions[draft.job.id, stay_of[index]] if index in stay_of else None,
            heater_set=sets.get(draft.job.id) if spec.block else None,
        )
        stages.append(draft.locked.get(index, free))
    return PlannedJob(id=draft.job.id, stages=tuple(stages))
