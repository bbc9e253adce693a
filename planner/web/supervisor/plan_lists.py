"""The lists beside the timeline: what is left out, what is late, what moves; each with its tyre's name."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from django.utils.translation import gettext as _

from planner.domain.durations import hours_minutes
from planner.domain.plan import Reason
from planner.domain.sentences import Sentence, recalled
from planner.web.here import Here
from planner.web.supervisor.changes import Change
from planner.web.supervisor.naming import JobName
from planner.web.supervisor.plan_view import PlanView
from planner.web.timeline.ruler import local_time

_UNKNOWN: Mapping[str, tuple[Reason, ...]] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOutRow:
    """A tyre that the plan leaves out."""

    name: JobName
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NotEnteredRow:
    """A tyre that could not be planned at all."""

    name: JobName
    tyre: str
    reason: Sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class LateRow:
    """A tyre that is ready after it is needed."""

    name: JobName
    ready: datetime
    needed: datetime
    minutes_late: int
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveRow:
    """A tyre that stands otherwise than in the plan that holds."""

    name: JobName
    before: datetime | None
    now: datetime | None
    words: str
    why: str = ""

    @property
    def is_later(self) -> bool:
        """Whether it is ready later than promised."""
        return self.before is not None and self.now is not None and self.now > self.before

    @property
    def is_sooner(self) -> bool:
        """Whether it is ready sooner than promised."""
        return self.before is not None and self.now is not None and self.now < self.before


@dataclass(frozen=True, slots=True, kw_only=True)
class MovesTold:
    """All that moves: first what is ready at another time, then what only stands otherwise; and how many."""

    moved: tuple[MoveRow, ...]
    as_before: tuple[MoveRow, ...]
    later: int
    sooner: int
    gone: int
    added: int

    @property
    def rows(self) -> int:
        """How many tyres there are in all."""
        return len(self.moved) + len(self.as_before)


def moves_told(rows: Sequence[MoveRow]) -> MovesTold:
    """The rows of a comparison, sorted out."""
    timed = [row for row in rows if row.before is not None and row.now is not None]
    return MovesTold(
        moved=tuple(row for row in rows if row.before != row.now),
        as_before=tuple(row for row in rows if row.before == row.now),
        later=sum(row.is_later for row in timed),
        sooner=sum(row.is_sooner for row in timed),
        gone=sum(row.now is None for row in rows),
        added=sum(row.before is None for row in rows),
    )


def left_out_rows(view: PlanView) -> list[LeftOutRow]:
    """In the order of the plan."""
    return [LeftOutRow(name=view.names.job(job.job), reasons=job.reasons) for job in view.summary.left_out]


def not_entered_rows(view: PlanView) -> list[NotEnteredRow]:
    """What no plan can take in as the bay stands now."""
    return [
        NotEnteredRow(
            name=JobName(job=each["work_order"]),
            tyre=each["tyre"],
            reason=recalled(each.get("told", each["reason"])),
        )
        for each in view.row.not_entered
    ]


def late_rows(here: Here, view: PlanView, why: Mapping[str, tuple[Reason, ...]] = _UNKNOWN) -> list[LateRow]:
    """The latest first; `why` by job, where it was reckoned already."""
    origin = view.content.problem.origin
    return [
        LateRow(
            name=view.names.job(job.job),
            ready=local_time(origin, job.ends, here.zone),
            needed=local_time(origin, job.needed_by, here.zone),
            minutes_late=job.minutes_late,
            reasons=why.get(job.job, ()),
        )
        for job in view.summary.late
    ]


def move_rows(here: Here, view: PlanView) -> list[MoveRow]:
    """What slips most first."""
    origin = view.content.problem.origin
    return [
        MoveRow(
            name=view.names.job(change.job),
            before=None
            if change.ready_before is None
            else local_time(origin, change.ready_before, here.zone),
            now=None if change.ready_now is None else local_time(origin, change.ready_now, here.zone),
            words=change_words(change),
        )
        for change in view.changes
    ]


def change_words(change: Change) -> str:
    """A change as one says it."""
    later = change.minutes_later
    if later is None:
        return _("no longer planned") if change.ready_now is None else _("newly planned")
    if change.elsewhere:
        return _("ready at the same time, otherwise done")
    if later > 0:
        return _("%(time)s later") % {"time": hours_minutes(later)}
    return _("%(time)s sooner") % {"time": hours_minutes(-later)}
