"""The bars of the board: each item with its pieces, its label and the sentence that a screen reader says."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from zoneinfo import ZoneInfo

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedStage
from planner.web.timeline.appearance import Look
from planner.web.timeline.items import Item
from planner.web.timeline.ruler import local_time
from planner.web.timeline.scale import Scale

_TOP, _HEIGHT = 5, 42
_WORK_HEIGHT = 27
_WATCH_TOP, _WATCH_HEIGHT = 34, 14
_LETTER, _SMALL_LETTER = 7.0, 5.8
"""How wide a letter is on the whole, on a bar and on a watch [px]."""
_INSET = 10
"""What stands free beside the words on a bar [px]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """What the bars call things: names for jobs and lanes, and which jobs are late, locked or moved."""

    origin: datetime
    zone: ZoneInfo
    job_names: Mapping[str, str] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    late: frozenset[str] = frozenset()
    locked: frozenset[str] = frozenset()
    moved: frozenset[str] = frozenset()
    share_lane_with_watch: bool = False

    def job(self, job: str) -> str:
        """What people call the job."""
        return self.job_names.get(job, job)

    def clock(self, minute: int) -> str:
        """Weekday and time on the bay's clock."""
        return date_format(local_time(self.origin, minute, self.zone), "D H:i")

    def hour(self, minute: int) -> str:
        """Time on the bay's clock."""
        return date_format(local_time(self.origin, minute, self.zone), "H:i")


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A stage inside a bar, measured from the bar's left edge [px]."""

    look: Look
    x: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One thing on the board that can be looked at, picked up and moved [px, min]."""

    job: str
    stage: str
    start: int
    x: float
    y: int
    width: float
    height: int
    label: str
    aria: str
    pieces: tuple[Piece, ...]
    is_watch: bool
    late: bool
    locked: bool
    moved: bool


def bar_of(item: Item, scale: Scale, wording: Wording) -> Bar:
    """The bar of an item, which may stick out of the board on either side."""
    job = item.jobs[0]
    y, height = _row(item, wording)
    return Bar(
        job=job,
        stage="" if item.is_watch else item.stages[0].name,
        start=item.span.start,
        x=scale.x(item.span.start),
        y=y,
        width=scale.length(item.span),
        height=height,
        label=_label(item, wording, scale.length(item.span)),
        aria=_aria(item, wording),
        pieces=tuple(_pieces(item, scale)),
        is_watch=item.is_watch,
        late=job in wording.late and not item.is_watch,
        locked=job in wording.locked and not item.is_watch,
        moved=job in wording.moved and not item.is_watch,
    )


def _row(item: Item, wording: Wording) -> tuple[int, int]:
    if item.is_watch:
        return _WATCH_TOP, _WATCH_HEIGHT
    return (_TOP, _WORK_HEIGHT) if wording.share_lane_with_watch else (_TOP, _HEIGHT)


def _pieces(item: Item, scale: Scale) -> list[Piece]:
    """The stages as they follow one another; between two of them the tyre waits."""
    spans = [stage.span for stage in item.stages] or [item.span]
    pieces, cursor = [], item.span.start
    for span, look in zip(spans, item.looks, strict=True):
        if span.start > cursor:
            pieces.append(_piece(Look.WAIT, Span(cursor, span.start), item, scale))
        pieces.append(_piece(look, span, item, scale))
        cursor = span.end
    return pieces


def _piece(look: Look, span: Span, item: Item, scale: Scale) -> Piece:
    offset = Span(item.span.start, span.start)
    return Piece(look=look, x=scale.length(offset), width=scale.length(span))


def _label(item: Item, wording: Wording, width: float) -> str:
    """The most that fits on the bar, for cut words mislead; on the narrowest nothing."""
    letter = _SMALL_LETTER if item.is_watch else _LETTER
    job = "" if item.is_watch else item.jobs[0]
    marks = (2 if job in wording.late else 0) + (2 if job in wording.locked else 0)
    room = (width - _INSET) / letter - marks
    return next((words for words in _wordings(item, wording) if len(words) <= room), "")


def _wordings(item: Item, wording: Wording) -> tuple[str, ...]:
    """What may stand on the bar, the longest first; the number of the order is what tells it apart."""
    if item.is_watch:
        count = len(item.jobs)
        return ngettext("attends %d tyre", "attends %d tyres", count) % count, str(count)
    job = wording.job(item.jobs[0])
    code = job.split(" ")[0]
    number = code.rpartition("-")[2]
    alone = (code, number, number.lstrip("0"))
    if len(item.stages) != 1:
        return job, *alone
    stage = item.stages[0].name
    return f"{stage} · {job}", f"{stage} · {code}", *alone


def _aria(item: Item, wording: Wording) -> str:
    """Tyre, stages with their times, who and where; then what is special about it."""
    jobs = ", ".join(wording.job(job) for job in item.jobs)
    lane = wording.names.get(item.lane, item.lane)
    start, end = wording.clock(item.span.start), wording.clock(item.span.end)
    if item.is_watch:
        return _("%(who)s attends %(jobs)s, %(start)s to %(end)s") % {
            "who": lane, "jobs": jobs, "start": start, "end": end,
        }  # fmt: skip
    stages = "; ".join(_stage_words(stage, wording) for stage in item.stages)
    marks = "".join(f", {mark}" for mark in _marks(item.jobs[0], wording))
    return f"{jobs}, {lane}, {start} – {end}{marks}. {stages}"


def _stage_words(stage: PlannedStage, wording: Wording) -> str:
    people = ", ".join(wording.names.get(name, name) for name in stage.technicians)
    times = f"{stage.name} {wording.hour(stage.start)} – {wording.hour(stage.end)}"
    return f"{times} ({people})" if people else times


def _marks(job: str, wording: Wording) -> list[str]:
    marks = (
        (wording.late, _("late")),
        (wording.locked, _("locked")),
        (wording.moved, _("moved since published")),
    )
    return [word for jobs, word in marks if job in jobs]
