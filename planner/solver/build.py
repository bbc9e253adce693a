"""Build the model of a bay's state: variables for each free job, then what each rule asks."""

from collections.abc import Iterable, Sequence

from planner.solver.bay import Bay
from planner.solver.choices import crew_choices, position_choices, set_choices
from planner.solver.masks import Mask
from planner.solver.model import BayModel, ChosenCrew, ChosenPool, JobVariables, Literal, Step, domain_of
from planner.solver.pieces import Piece, TyreWork
from planner.solver.places import PlacePool
from planner.solver.reach import PieceStarts, starts_by_stage, tightened
from planner.solver.rules import ALL
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


def build_model(state: BayState, rules: Sequence[Rule] = ALL) -> BayModel:
    """The model of a state under those rules; a locked job that cannot be finished makes it infeasible."""
    model = BayModel(state=state)
    for work in state.free:
        reach = open_starts(state, work, rules)
        if reach is not None:
            model.jobs[work.job.id] = job_variables(model, work, reach)
        elif work.locked:
            model.cp.add_bool_or([])
    for rule in rules:
        rule.post(model)
    return model


def open_starts(state: BayState, work: TyreWork, rules: Sequence[Rule]) -> tuple[PieceStarts, ...] | None:
    """Where each piece may start, the job by itself; None where it cannot be planned."""
    if not work.possible or not _has_places(state, work):
        return None
    pieces = tuple(_piece_starts(state, piece, rules) for piece in work.pieces)
    reach = tightened(work, pieces, state.bay.grid)
    return reach if all(entry.starts for entry in reach) else None


def _has_places(state: BayState, work: TyreWork) -> bool:
    stays = all(position_choices(state, work, stay) for stay in work.job.stays())
    return stays and (not work.job.block or bool(set_choices(state, work)))


def _piece_starts(state: BayState, piece: Piece, rules: Iterable[Rule]) -> PieceStarts:
    starts: Mask = state.bay.whole >> (piece.work - 1)
    for rule in rules:
        starts &= rule.starts(state, piece)
    pauses = crew_choices(state, piece, piece.stages.start) if piece.pausable else ()
    return PieceStarts(piece=piece, starts=starts, pauses=pauses)


def job_variables(model: BayModel, work: TyreWork, reach: tuple[PieceStarts, ...]) -> JobVariables:
    """The variables of one job, with every choice tied to whether it is planned."""
    planned = model.always if work.locked else model.cp.new_bool_var(f"{work.job.id} planned")
    job = JobVariables(work=work, planned=planned, reach=starts_by_stage(reach))
    for entry in reach:
        first = entry.piece.stages.start
        job.starts[first] = model.cp.new_int_var_from_domain(
            domain_of(entry.starts), f"{work.job.id} {first}"
        )
        for stage in entry.piece.stages:
            _add_crews(model, job, entry, stage)
    job.sets = _pools(model, job, set_choices(model.state, work))
    for stay in work.job.stays():
        job.stays[stay] = _pools(model, job, position_choices(model.state, work, stay))
    return job


def _add_crews(model: BayModel, job: JobVariables, entry: PieceStarts, stage: int) -> None:
    offset = entry.piece.offset_of(stage)
    choices = [
        choice
        for choice in crew_choices(model.state, entry.piece, stage)
        if choice.starts & (entry.starts << offset)
    ]
    if not choices:
        return
    literals = _one_of(model, job.planned, len(choices))
    job.crews[stage] = tuple(
        ChosenCrew(choice=choice, taken=taken) for choice, taken in zip(choices, literals, strict=True)
    )
    if entry.piece.pausable:
        job.ends[stage] = _paused_end(model, job, stage)


def _paused_end(model: BayModel, job: JobVariables, stage: int) -> Step:
    start, chosen = job.starts[stage], job.crews[stage]
    lengths = {entry.choice.elapsed for entry in chosen}
    if len(lengths) == 1:
        return start + lengths.pop()
    end = model.cp.new_int_var_from_domain(domain_of(job.reach[stage].ends()), "")
    for entry in chosen:
        model.cp.add(end == start + entry.choice.elapsed).only_enforce_if(entry.taken)
    return end


def _pools(model: BayModel, job: JobVariables, pools: Sequence[PlacePool]) -> tuple[ChosenPool, ...]:
    literals = _one_of(model, job.planned, len(pools))
    return tuple(ChosenPool(pool=pool, taken=taken) for pool, taken in zip(pools, literals, strict=True))


def _one_of(model: BayModel, planned: Literal, count: int) -> list[Literal]:
    if count <= 1:
        return [planned] * count
    literals = [model.cp.new_bool_var("") for _ in range(count)]
    model.cp.add(sum(literals) == planned)
    return literals


def whole_state(bay: Bay) -> BayState:
    """Every job free."""
    return BayState(bay=bay, free=tuple(bay.works.values()))
