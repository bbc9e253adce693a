"""What moves against the published plan and why: asked for after the page, since it takes longer."""

from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from planner.domain.durations import hours_minutes
from planner.domain.permissions import Action
from planner.selectors.nouns import Plan
from planner.selectors.plan_moves import MovedJob, plan_moves_get
from planner.selectors.plans import plan_content_get, plan_get
from planner.web.here import Here, show, site_page
from planner.web.supervisor.breach_words import breach_words
from planner.web.supervisor.changes import Change
from planner.web.supervisor.naming import Names, names_get
from planner.web.supervisor.plan_lists import MoveRow, change_words, moves_told
from planner.web.timeline.ruler import local_time

_MOST_SAID = 2


@site_page(Action.SITE_READ)
def moved_shown(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Every tyre that moves, what slips most first, each with its cause."""
    row = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    told = moves_told(moved_rows(here, row))
    return show(request, here, "supervisor/moved.html", told=told, is_told=True)


def moved_rows(here: Here, row: Plan) -> list[MoveRow]:
    """The rows of one plan."""
    problem = plan_content_get(plan=row).problem
    names = names_get(here, problem)

    def at(minute: int | None) -> datetime | None:
        return None if minute is None else local_time(problem.origin, minute, here.zone)

    moved = sorted(plan_moves_get(user=here.user, plan=row), key=lambda one: -_minutes_later(one))
    return [
        MoveRow(
            name=names.job(one.job),
            before=at(one.ready_before),
            now=at(one.ready_now),
            words=_words(one, names),
            why=breach_words(one.reason.message, names),
        )
        for one in moved
    ]


def _minutes_later(moved: MovedJob) -> int:
    """A tyre that is no longer planned slips most of all."""
    if moved.ready_now is None:
        return 10**9
    return 0 if moved.ready_before is None else moved.ready_now - moved.ready_before


def _words(moved: MovedJob, names: Names) -> str:
    """How it changes; where it is ready as before, which stages are otherwise."""
    change = Change(
        job=moved.job, ready_before=moved.ready_before, ready_now=moved.ready_now,
        elsewhere=moved.ready_before == moved.ready_now,
    )  # fmt: skip
    if not change.elsewhere:
        return change_words(change)
    said: list[str] = list(dict.fromkeys(each for move in moved.moves for each in move.changes))
    said += [
        _("%(stage)s %(time)s %(way)s")
        % {
            "stage": move.stage,
            "time": hours_minutes(abs(move.minutes)),
            "way": _("later") if move.minutes > 0 else _("sooner"),
        }
        for move in moved.moves
        if move.minutes
    ]
    more = _(" and %(n)s more") % {"n": len(said) - _MOST_SAID} if len(said) > _MOST_SAID else ""
    told = "; ".join(breach_words(each, names) for each in said[:_MOST_SAID])
    return _("ready as before; %(changes)s%(more)s") % {"changes": told, "more": more}
