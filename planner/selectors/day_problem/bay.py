"""The bay's people, places, sets and rules as values of the domain."""

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from planner.domain.bay_time import Span
from planner.domain.resources import BayRules, HeaterSet, Position, Shift, Technician
from planner.models import Closure, Isolation, Site
from planner.models import HeaterSet as SetRow
from planner.models import Position as PositionRow
from planner.models import Shift as ShiftRow
from planner.models import Technician as TechnicianRow
from planner.selectors.day_problem.clock import HorizonClock


def rules_of(site: Site) -> BayRules:
    """The site's rules."""
    return BayRules(
        cures_per_attendant=site.cures_per_attendant,
        watch_skill=site.watch_skill,
        attendant_may_work=site.attendant_may_work,
        watch_through_breaks=site.watch_through_breaks,
        watch_cool_down=site.watch_cool_down,
        handover_allowed=site.handover_allowed,
        power_limit_kw=None if site.power_limit_kw is None else float(site.power_limit_kw),
        channel_limit=site.channel_limit,
    )


def technicians_of(
    rows: Iterable[TechnicianRow], shifts: Iterable[ShiftRow], clock: HorizonClock
) -> tuple[Technician, ...]:
    """The technicians with their skills and shifts."""
    shifts_by_technician: dict[int, list[Shift]] = {}
    for row in shifts:
        if (span := clock.inward(row.starts_at, row.ends_at)) is not None:
            pauses = tuple(_clipped(clock.outward(b.starts_at, b.ends_at), span) for b in row.breaks.all())
            shift = Shift(span=span, breaks=pauses)
            shifts_by_technician.setdefault(row.technician_id, []).append(shift)
    return tuple(
        Technician(
            id=row.code,
            skills=frozenset(skill.code for skill in row.skills.all()),
            shifts=tuple(shifts_by_technician.get(row.pk, ())),
        )
        for row in rows
    )


def positions_of(
    rows: Iterable[PositionRow], closures: Iterable[Closure], clock: HorizonClock
) -> tuple[Position, ...]:
    """The floor positions with their kinds and closures."""
    closed = _spans_by_id(((c.position_id, c.starts_at, c.ends_at) for c in closures), clock)
    return tuple(
        Position(
            id=row.code, kinds=frozenset(kind.code for kind in row.kinds.all()), closed=closed.get(row.pk, ())
        )
        for row in rows
    )


def heater_sets_of(
    rows: Iterable[SetRow], closures: Iterable[Closure], clock: HorizonClock, horizon_end: int
) -> tuple[HeaterSet, ...]:
    """The sets with their closures; a set is closed from the day after a part's inspection is due."""
    closed = _spans_by_id(((c.heater_set_id, c.starts_at, c.ends_at) for c in closures), clock)
    return tuple(
        HeaterSet(
            id=row.code,
            channels=row.channels,
            power_kw=float(row.power_kw),
            turnaround_minutes=row.turnaround_minutes,
            closed=closed.get(row.pk, ()) + _uninspected(row, clock, horizon_end),
        )
        for row in rows
    )


def power_off_of(isolations: Iterable[Isolation], clock: HorizonClock) -> tuple[Span, ...]:
    """The isolations of the supply."""
    return tuple(clock.outward(row.starts_at, row.ends_at) for row in isolations)


def inspection_ends(row: SetRow) -> date | None:
    """The last day on which every part of the set is still inspected; None where no date is kept."""
    return min((part.inspection_due_on for part in row.parts.all() if part.inspection_due_on), default=None)


def _uninspected(row: SetRow, clock: HorizonClock, horizon_end: int) -> tuple[Span, ...]:
    last_day = inspection_ends(row)
    if last_day is None:
        return ()
    start = max(clock.midnight(last_day + timedelta(days=1)), 0)
    return (Span(start, horizon_end),) if start < horizon_end else ()


def _spans_by_id(
    stretches: Iterable[tuple[int | None, datetime, datetime]], clock: HorizonClock
) -> dict[int, tuple[Span, ...]]:
    spans: dict[int, tuple[Span, ...]] = {}
    for owner, starts_at, ends_at in stretches:
        if owner is not None:
            spans[owner] = (*spans.get(owner, ()), clock.outward(starts_at, ends_at))
    return spans


def _clipped(pause: Span, shift: Span) -> Span:
    return Span(max(pause.start, shift.start), min(pause.end, shift.end))
