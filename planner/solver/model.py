"""The constraint model of a bay: variables for every free job, and the ends that rules speak of [steps]."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from planner.solver.attendance import AttendantGroup, attendant_groups, watched_runs
from planner.solver.choices import CrewChoice
from planner.solver.door import cp_model
from planner.solver.masks import first_of, last_of, runs
from planner.solver.pieces import Piece, TyreWork
from planner.solver.places import PlacePool
from planner.solver.reach import PieceStarts
from planner.solver.rooms import Room
from planner.solver.state import BayState

Step = cp_model.LinearExpr | int
Literal = cp_model.IntVar


@dataclass(frozen=True, kw_only=True)
class ChosenCrew:
    """A crew choice and whether the plan takes it."""

    choice: CrewChoice
    taken: Literal


@dataclass(frozen=True, kw_only=True)
class ChosenPool:
    """A pool for a block or a stay, and whether the plan takes it."""

    pool: PlacePool
    taken: Literal


@dataclass(kw_only=True)
class JobVariables:
    """One free job in the model; its starts and ends mean nothing where it is not planned."""

    work: TyreWork
    planned: Literal
    reach: Mapping[int, PieceStarts]
    starts: dict[int, cp_model.IntVar] = field(default_factory=dict)
    ends: dict[int, Step] = field(default_factory=dict)
    crews: dict[int, tuple[ChosenCrew, ...]] = field(default_factory=dict)
    sets: tuple[ChosenPool, ...] = ()
    stays: dict[range, tuple[ChosenPool, ...]] = field(default_factory=dict)
    attendants: dict[int, Literal] = field(default_factory=dict)

    def start(self, stage: int, grid: int) -> Step:
        """When the stage starts; for locked work the last step not after it."""
        if stage in self.work.locked:
            return self.work.locked[stage].start // grid
        piece = self.work.piece_of(stage)
        return self.starts[piece.stages.start] + piece.offset_of(stage)

    def end(self, stage: int, grid: int) -> Step:
        """When the stage ends; for locked work the first step not before it."""
        if stage in self.work.locked:
            return -(-self.work.locked[stage].end // grid)
        piece = self.work.piece_of(stage)
        if piece.pausable:
            return self.ends[piece.stages.start]
        return self.starts[piece.stages.start] + piece.offset_of(stage) + piece.length_of(stage)

    def open_block(self) -> Iterator[range]:
        """The heat block as a run of stages, where there is one that locks do not fix."""
        block = self.work.job.block
        run = range(block[0], block[-1] + 1) if block else range(0)
        if run and not self.is_given(run):
            yield run

    def is_given(self, stages: range) -> bool:
        """Whether both ends of a run of stages are locked."""
        return stages.start in self.work.locked and stages.stop - 1 in self.work.locked


@dataclass(kw_only=True)
class BayModel:
    """All free jobs of a state in one constraint model, to which the rules add what they ask."""

    state: BayState
    cp: cp_model.CpModel = field(default_factory=cp_model.CpModel)
    jobs: dict[str, JobVariables] = field(default_factory=dict)

    @property
    def grid(self) -> int:
        """The grid [min]."""
        return self.state.bay.grid

    @cached_property
    def groups(self) -> tuple[AttendantGroup, ...]:
        """The attendants, as a tyre may choose them where the watch may not pass on."""
        return attendant_groups(self.state)

    @cached_property
    def always(self) -> Literal:
        """The literal that holds in every plan."""
        return self.cp.new_constant(1)

    def start(self, job: JobVariables, stage: int) -> Step:
        """When the stage starts [steps]."""
        return job.start(stage, self.grid)

    def end(self, job: JobVariables, stage: int) -> Step:
        """When the stage ends [steps]."""
        return job.end(stage, self.grid)

    def ends_of(self, job: JobVariables) -> tuple[int, int]:
        """The earliest and the latest end of a job whose last stage is open [min]."""
        ends = job.reach[len(job.work.job.stages) - 1].ends()
        return self.grid * first_of(ends), self.grid * last_of(ends)

    def interval(
        self, job: JobVariables, stages: range, taken: Literal, *, extra: int = 0
    ) -> cp_model.IntervalVar:
        """The time from the first stage's start to the last one's end, and `extra` steps more, if `taken`."""
        start = self.start(job, stages.start)
        piece = job.reach.get(stages.start)
        if piece is not None and stages.stop - 1 in piece.piece.stages and not piece.piece.pausable:
            size = self._fixed_length(piece.piece, stages) + extra
            return self.cp.new_optional_fixed_size_interval_var(start, size, taken, "")
        longest = self.state.bay.steps + extra - (min(start, 0) if isinstance(start, int) else 0)
        span = self.cp.new_int_var(0, longest, "")
        return self.cp.new_optional_interval_var(
            start, span, self.end(job, stages.stop - 1) + extra, taken, ""
        )

    def _fixed_length(self, piece: Piece, stages: range) -> int:
        last = stages.stop - 1
        return piece.offset_of(last) + piece.length_of(last) - piece.offset_of(stages.start)

    def starts_in(self, start: Step, mask: int, taken: Literal) -> None:
        """Let `start` lie in the mask if `taken`."""
        self.cp.add_linear_expression_in_domain(start, domain_of(mask)).only_enforce_if(taken)

    def watched_intervals(self) -> Iterator[tuple[JobVariables, cp_model.IntervalVar]]:
        """Every watched run of the free jobs whose times are open."""
        for job in self.jobs.values():
            for run in watched_runs(self.state, job.work):
                if run.start not in job.work.locked:
                    yield job, self.interval(job, run, job.planned)

    def crew_interval(self, job: JobVariables, stage: int, entry: ChosenCrew) -> cp_model.IntervalVar:
        """The time for which a chosen crew is busy with the stage, its breaks included."""
        start = self.start(job, stage)
        return self.cp.new_optional_fixed_size_interval_var(start, entry.choice.elapsed, entry.taken, "")

    def add_cumulative(
        self, intervals: Sequence[cp_model.IntervalVar], sizes: Sequence[int], room: Room
    ) -> None:
        """Keep what the intervals take within the room at every step."""
        if not intervals or sum(sizes) <= room.least:
            return
        filled = room.shortfalls()
        fixed = [self.cp.new_fixed_size_interval_var(first, last - first, "") for first, last, _ in filled]
        if room.most == 1:
            self.cp.add_no_overlap([*intervals, *fixed])
        else:
            self.cp.add_cumulative(
                [*intervals, *fixed], [*sizes, *(short for *_, short in filled)], room.most
            )


def domain_of(mask: int) -> cp_model.Domain:
    """The steps of a mask as a domain of the solver."""
    return cp_model.Domain.from_intervals([[first, last - 1] for first, last in runs(mask)])
