"""Whose shifts a plan fills otherwise than the one before it, by the day."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from planner.models import Plan, Site, Technician
from planner.selectors.plans import plan_content_get


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewChange:
    """A technician whose work, place, company or watch is otherwise on these days of the site's calendar."""

    technician: Technician
    days: tuple[date, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One line of somebody's shift; equal where a shift sheet would say the same."""

    technician: str
    start: datetime
    end: datetime
    what: tuple[object, ...]


def crew_change_list(*, site: Site, before: Plan | None, after: Plan) -> list[CrewChange]:
    """Everybody whose shifts change from the start of `after` on, by their codes.

    Where nothing was published `before`, that is everybody with work.
    """
    old, new = (set(_pieces(plan, after.horizon_start)) for plan in (before, after))
    zone = ZoneInfo(site.time_zone)
    days: dict[str, set[date]] = {}
    for piece in old ^ new:
        day = max(piece.start, after.horizon_start).astimezone(zone).date()
        days.setdefault(piece.technician, set()).add(day)
    people = Technician.objects.filter(site=site, code__in=days).select_related("user").order_by("code")
    return [CrewChange(technician=each, days=tuple(sorted(days[each.code]))) for each in people]


def _pieces(plan: Plan | None, since: datetime) -> Iterator[Piece]:
    """What is not over by then."""
    if plan is None:
        return
    content = plan_content_get(plan=plan)
    origin = content.problem.origin.astimezone(UTC)

    def piece(technician: str, start: int, end: int, *what: object) -> Piece:
        first, last = (origin + timedelta(minutes=minute) for minute in (start, end))
        return Piece(technician=technician, start=first, end=last, what=what)

    schedule = content.plan.schedule
    lines = [
        piece(person, stage.start, stage.end, job.id, stage.name, stage.heater_set, stage.position,
              frozenset(stage.technicians))
        for job in schedule.jobs for stage in job.stages for person in stage.technicians
    ]  # fmt: skip
    lines += [
        piece(watch.technician, watch.span.start, watch.span.end, frozenset(watch.jobs))
        for watch in schedule.watch
    ]
    yield from (line for line in lines if line.end > since)
