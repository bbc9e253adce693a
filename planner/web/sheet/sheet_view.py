"""The shift sheets of one day, with names and clock times, for page and paper alike."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from django.utils.functional import Promise

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.selectors.plans import PlanContent
from planner.web.cautions import cautions_for
from planner.web.here import Here
from planner.web.sheet.lines import HandOver, LineKind, Sheet, SheetLine, shift_sheets
from planner.web.supervisor.naming import JobName, Names, names_get
from planner.web.timeline.ruler import local_time


@dataclass(frozen=True, slots=True, kw_only=True)
class LineView:
    """A line as it is written."""

    line: SheetLine
    start: datetime
    end: datetime
    tyres: tuple[JobName, ...]
    place: str
    together: str
    taken: tuple[tuple[JobName, str], ...]
    given: tuple[tuple[JobName, str], ...]
    others_in_watch: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetView:
    """A technician's sheet as it is written."""

    technician: str
    name: str
    start: datetime
    end: datetime
    lines: tuple[LineView, ...]
    cautions: tuple[str | Promise, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """Turns ids and minutes into names and times of the site."""

    here: Here
    problem: BayProblem
    names: Names

    def sheet(self, sheet: Sheet) -> SheetView:
        """One technician's sheet."""
        return SheetView(
            technician=sheet.technician,
            name=self.names.resource(sheet.technician),
            start=self.at(sheet.shift.start),
            end=self.at(sheet.shift.end),
            lines=tuple(self.line(line) for line in sheet.lines),
            cautions=cautions_for(sheet.looks),
        )

    def line(self, line: SheetLine) -> LineView:
        """One line of it."""
        stage = line.stage
        places = (stage.heater_set, stage.position) if stage else ()
        return LineView(
            line=line,
            start=self.at(line.span.start),
            end=self.at(line.span.end),
            tyres=tuple(self.names.job(job) for job in line.jobs),
            place=" · ".join(self.names.resource(place) for place in places if place),
            together=", ".join(self.names.resource(name) for name in line.together_with),
            taken=self._hand_overs(line.taken_from),
            given=self._hand_overs(line.given_to),
        )

    def at(self, minute: int) -> datetime:
        """The site's clock."""
        return local_time(self.problem.origin, minute, self.here.zone)

    def _hand_overs(self, passed: tuple[HandOver, ...]) -> tuple[tuple[JobName, str], ...]:
        return tuple((self.names.job(each.job), self.names.resource(each.other)) for each in passed)


def sheets_of_days(
    here: Here, content: PlanContent, first: date, last: date, technician: str = ""
) -> list[SheetView]:
    """The sheets of the shifts that begin on these days, the last included; of one technician, or of all."""
    begins, ends = (day_span(here, content.problem, day) for day in (first, last))
    return _written(here, content, Span(begins.start, ends.end), technician)


def sheets_of_plan(here: Here, content: PlanContent) -> list[SheetView]:
    """The sheets of every shift that begins before the plan's horizon ends."""
    starts = [shift.span.start for each in content.problem.technicians for shift in each.shifts]
    return _written(here, content, Span(min(starts, default=0), content.problem.horizon_end))


def _written(here: Here, content: PlanContent, span: Span, technician: str = "") -> list[SheetView]:
    writer = Writer(here=here, problem=content.problem, names=names_get(here, content.problem))
    sheets = shift_sheets(content.problem, content.plan.schedule, span)
    return [writer.sheet(sheet) for sheet in sheets if not technician or sheet.technician == technician]


def day_span(here: Here, problem: BayProblem, day: date) -> Span:
    """A day of the site's calendar in bay time: 23 or 25 h where the clock changes."""
    first, last = (
        datetime.combine(day + timedelta(days=more), time(), tzinfo=here.zone).astimezone(UTC)
        for more in (0, 1)
    )
    origin = problem.origin.astimezone(UTC)
    return Span(_minutes(first - origin), _minutes(last - origin))


def days_of(here: Here, content: PlanContent) -> Iterator[date]:
    """The days of the site's calendar that the plan covers."""
    day = content.problem.origin.astimezone(here.zone).date()
    last = local_time(content.problem.origin, content.problem.horizon_end - 1, here.zone).date()
    while day <= last:
        yield day
        day += timedelta(days=1)


def staffed_days(here: Here, content: PlanContent) -> set[date]:
    """The days of the site's calendar on which somebody's shift begins."""
    shifts = (shift for each in content.problem.technicians for shift in each.shifts)
    return {local_time(content.problem.origin, shift.span.start, here.zone).date() for shift in shifts}


def is_work(line: SheetLine) -> bool:
    """Whether the line is hands-on work."""
    return line.kind is LineKind.WORK


def _minutes(elapsed: timedelta) -> int:
    return int(elapsed.total_seconds()) // 60
