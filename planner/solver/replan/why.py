"""Why a job no longer stands where it was published: found by undoing one thing at a time, never guessed."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from planner.domain.plan import PlannedJob, Reason, Schedule
from planner.domain.problem import BayProblem
from planner.domain.sentences import _, named
from planner.domain.sentences import counted as ngettext
from planner.domain.work import Job
from planner.solver.reasons.words import local_time
from planner.solver.replan.differences import Difference, differences, on_clock_of
from planner.solver.replan.moves import Move, moves_between
from planner.solver.replan.promise import by_id
from planner.solver.replan.shared_things import what_both_use
from planner.solver.replan.staying import Neighbours


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedJob:
    """A job that stands otherwise than published, and why.

    `ready_before` and `ready_now` are its ends [min]; None where the one or the other plan leaves it out.
    `moves` are its stages that stand otherwise.
    """

    job: str
    ready_before: int | None
    ready_now: int | None
    moves: tuple[Move, ...]
    reason: Reason


def moved_jobs(
    before: BayProblem, published: Schedule, now: BayProblem, new: Schedule
) -> tuple[MovedJob, ...]:
    """Every job that differs, with the one thing that would have let it stay, or that made room for it.

    `before` is the published problem on its own clock; `published` is on the clock of `now`.
    """
    search = _Search(before=on_clock_of(before, now), published=published, now=now, new=new)
    return tuple(search.moved())


@dataclass(frozen=True, kw_only=True)
class _Search:
    before: BayProblem
    published: Schedule
    now: BayProblem
    new: Schedule
    _boards: dict[tuple[str, int | None], Neighbours] = field(default_factory=dict)

    def moved(self) -> Iterator[MovedJob]:
        """In the problem's order."""
        for job in self.now.jobs:
            old, new = self._old.get(job.id), self._new.get(job.id)
            if old != new and not (old and new and self._is_as_planned(old, new)):
                yield MovedJob(
                    job=job.id,
                    ready_before=old.end if old else None,
                    ready_now=new.end if new else None,
                    moves=self._moves.get(job.id, ()),
                    reason=self._why_moved(job, old) if old else self._why_new(job, self._new[job.id]),
                )

    def _is_as_planned(self, old: PlannedJob, new: PlannedJob) -> bool:
        """Whether nothing differs but who is on record for work in hand."""
        locked = self._locked_stages(new.id)
        return all(
            was.span == here.span if here.name in locked else was == here
            for was, here in zip(old.stages, new.stages, strict=True)
        )

    def _locked_stages(self, job: str) -> set[str]:
        return {stage.name for lock in self.now.locked if lock.id == job for stage in lock.stages}

    @cached_property
    def _jobs(self) -> dict[str, Job]:
        return {job.id: job for job in self.now.jobs}

    @cached_property
    def _old(self) -> dict[str, PlannedJob]:
        return {id_: job for id_, job in by_id(self.published).items() if id_ in self._jobs}

    @cached_property
    def _new(self) -> dict[str, PlannedJob]:
        return by_id(self.new)

    @cached_property
    def _moves(self) -> dict[str, tuple[Move, ...]]:
        found: dict[str, tuple[Move, ...]] = {}
        for move in moves_between(self.published, self.new):
            found[move.job] = (*found.get(move.job, ()), move)
        return found

    @cached_property
    def _differences(self) -> tuple[Difference, ...]:
        return differences(self.before, self.published, self.now)

    @cached_property
    def _unmoved(self) -> list[PlannedJob]:
        return [job for id_, job in self._new.items() if self._old.get(id_) == job]

    def _why_moved(self, job: Job, old: PlannedJob) -> Reason:
        new = self._new.get(job.id)
        told = self._not_begun(job, old)
        for with_names in self._how_strictly(old, new) if told is None else ():
            told = (
                self._alone(job, old, with_names)
                or self._beside("unmoved", job, old, with_names)
                or self._made_room(job, old, with_names)
            )
            if told is not None:
                break
        return told or self._might_have_stayed(old, new)

    def _how_strictly(self, old: PlannedJob, new: PlannedJob | None) -> tuple[bool, ...]:
        """Whether to ask for its own people, positions and sets: at once where only these are others."""
        if new is not None and _times(new) == _times(old):
            return (True,)
        return (False,) if new is not None and new.end < old.end else (False, True)

    def _not_begun(self, job: Job, old: PlannedJob) -> Reason | None:
        locked = self._locked_stages(job.id)
        first = next((stage.start for stage in old.stages if stage.name not in locked), None)
        opening = max(0, job.released_at)
        if first is None or first >= opening:
            return None
        if over := self._own_overrun(job, first):
            return self._told(over, job)
        figures = {"planned": local_time(self.now, first), "opening": local_time(self.now, opening)}
        begin = _("It was to begin {planned:moment} and cannot before {opening:moment}.", **figures)
        go_on = _("It was to go on {planned:moment} and cannot before {opening:moment}.", **figures)
        return Reason(
            code="not_begun",
            message=go_on if locked else begin,
            figures={"planned_min": first, "open_min": opening},
        )

    def _own_overrun(self, job: Job, first: int) -> Difference | None:
        """The stage in hand that ends only after the next one was to begin."""
        ends = [lock.stages[-1].end for lock in self.now.locked if lock.id == job.id]
        overran = (one for one in self._differences if one.code == "runs_over" and one.job == job.id)
        return next(overran, None) if ends and ends[0] > first else None

    def _alone(self, job: Job, old: PlannedJob, with_names: bool) -> Reason | None:
        """What keeps it from its place even with only work in hand, and what it has to follow, beside it."""
        missing = [one for one in job.after if one not in self._new]
        if missing:
            return Reason(
                code="predecessor_out",
                message=_(
                    "It must follow {after:names} on the same tyre, which is left out itself.",
                    after=tuple(missing),
                ),
                figures={"after": ", ".join(missing)},
            )
        late = [one for one in job.after if self._new[one].end > old.stages[0].start]
        if late:
            return Reason(
                code="predecessor_later",
                message=_(
                    "It must follow {after:names} on the same tyre, ready only {ready:moment}.",
                    after=tuple(late),
                    ready=local_time(self.now, max(self._new[one].end for one in late)),
                ),
                figures={"after": ", ".join(late)},
            )
        return self._beside("alone", job, old, with_names)

    def _beside(self, who: str, job: Job, old: PlannedJob, with_names: bool) -> Reason | None:
        """The difference that keeps it from its place beside those; None where it could stand there."""
        if self._could_stay(who, None, job, old, with_names):
            return None
        own = [number for number, one in enumerate(self._differences) if one.job == job.id]
        rest = [number for number, one in enumerate(self._differences) if one.job != job.id]
        for number in (*own, *rest):
            if self._could_stay(who, number, job, old, with_names):
                return self._told(self._differences[number], job)
        several = _(
            "More than one thing keeps it from its old place: {things:list}.",
            things=tuple(one.words for one in self._differences[:3]),
        )
        return Reason(
            code="several",
            message=several if self._differences else _("Its old place no longer holds."),
            figures={"differences": len(self._differences)},
        )

    def _told(self, difference: Difference, job: Job) -> Reason:
        own = difference.own_words if difference.job == job.id else None
        words = own or difference.words
        return Reason(
            code=difference.code,
            message=_("{words:capital}.", words=words),
            figures=difference.figures,
        )

    def _could_stay(self, who: str, undone: int | None, job: Job, old: PlannedJob, with_names: bool) -> bool:
        return self._board(who, undone).keep(
            old, [self._new[one] for one in job.after], with_names=with_names
        )

    def _board(self, who: str, undone: int | None) -> Neighbours:
        """The bay with one difference undone, and those jobs in place; made once."""
        if (who, undone) not in self._boards:
            problem = self.now if undone is None else self._differences[undone].undo(self.now)
            jobs = {"alone": [], "unmoved": self._unmoved, "all": list(self._new.values())}[who]
            self._boards[who, undone] = Neighbours(problem, jobs)
        return self._boards[who, undone]

    def _made_room(self, job: Job, old: PlannedJob, with_names: bool) -> Reason | None:
        """The jobs that stand in its place now; None where nobody does."""
        board = self._board("all", None)
        itself = board.take(job.id)
        rivals = sorted(self._rivals(board, job.id), key=lambda one: not _meets(self._new[one], old))
        found = _in_the_way(board, old, with_names, rivals)
        told = self._room_words(old, found) if found else None
        if itself is not None:
            board.add(itself)
        return told

    def _rivals(self, board: Neighbours, but: str) -> list[str]:
        """The jobs that are new or moved: those that stayed were beside it before."""
        stayed = {job.id for job in self._unmoved}
        return [one for one in board.others(but) if one not in stayed]

    def _room_words(self, old: PlannedJob, found: list[str]) -> Reason:
        shared = what_both_use(old, [self._new[one] for one in found])
        message = _("It makes room for {others:names}.", others=tuple(found))
        if shared:
            message = ngettext(
                "It makes room for {others:names}, which has {things:names} then.",
                "It makes room for {others:names}, which have {things:names} then.",
                len(found),
                others=tuple(found),
                things=tuple(shared),
            )
        return Reason(
            code="made_room",
            message=message,
            figures={"for": ", ".join(found), "shared": named(shared) if shared else None},
        )

    def _might_have_stayed(self, old: PlannedJob, new: PlannedJob | None) -> Reason:
        if new is None:
            return Reason(code="free", message=_("Nothing keeps it from its old place."))
        if new.end < old.end:
            return self._sooner(new, old.end - new.end)
        return Reason(
            code="free",
            message=_("Nothing keeps it from its old place; the plan as a whole is better this way."),
        )

    def _sooner(self, new: PlannedJob, minutes: int) -> Reason:
        left = self._who_left(new)
        return Reason(
            code="sooner",
            message=_(
                "It is ready {sooner_min:duration} sooner: {left:names} left room for it.",
                sooner_min=minutes,
                left=tuple(left),
            )
            if left
            else _("It is ready {sooner_min:duration} sooner: there is room for it.", sooner_min=minutes),
            figures={"sooner_min": minutes, "left_by": ", ".join(left) or None},
        )

    def _why_new(self, job: Job, new: PlannedJob) -> Reason:
        if job.id not in {one.id for one in self.before.jobs}:
            return Reason(code="arrived", message=_("It came in after the plan was published."))
        left = self._who_left(new)
        return Reason(
            code="room_found",
            message=_("The published plan left it out; {left:names} left room for it.", left=tuple(left))
            if left
            else _("The published plan left it out; there is room for it now."),
            figures={"left_by": ", ".join(left) or None},
        )

    def _who_left(self, new: PlannedJob) -> list[str]:
        """The jobs whose published places had to be given up before this one could stand where it does."""
        if ("published", None) not in self._boards:
            self._boards["published", None] = Neighbours(self.now, self._old.values())
        board = self._boards["published", None]
        itself = board.take(new.id)
        stayed = {job.id for job in self._unmoved}
        rivals = [one for one in board.others(new.id) if one not in stayed]
        rivals.sort(key=lambda one: not _meets(self._old[one], new))
        found = _in_the_way(board, new, False, rivals)
        if itself is not None:
            board.add(itself)
        return found


def _in_the_way(board: Neighbours, wanted: PlannedJob, with_names: bool, rivals: list[str]) -> list[str]:
    """The fewest of `rivals` that would have to go for a job to stand at its times; none where it could."""
    if board.allow(wanted, with_names=with_names):
        return []
    for one in rivals:
        planned = board.take(one)
        allowed = board.allow(wanted, with_names=with_names)
        if planned is not None:
            board.add(planned)
        if allowed:
            return [one]
    taken = {one: planned for one in rivals if (planned := board.take(one)) is not None}
    needed = list(taken) if board.allow(wanted, with_names=with_names) else []
    for one in list(needed):
        board.add(taken[one])
        if board.allow(wanted, with_names=with_names):
            needed.remove(one)
        else:
            board.take(one)
    for one, planned in taken.items():
        if one in needed or not needed:
            board.add(planned)
    return needed


def _meets(one: PlannedJob, other: PlannedJob) -> bool:
    """Whether two jobs are in hand at the same time."""
    return one.stages[0].start < other.end and other.stages[0].start < one.end


def _times(job: PlannedJob) -> list[tuple[int, int]]:
    return [(stage.start, stage.end) for stage in job.stages]
