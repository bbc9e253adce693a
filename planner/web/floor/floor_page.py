"""The floor page: the work of today, big enough for gloves."""

from dataclasses import replace
from datetime import datetime, time, timedelta
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from planner.domain.permissions import Action
from planner.selectors.attendance import attended_tyre_list
from planner.selectors.attendants import attendants_get
from planner.selectors.nouns import Plan
from planner.selectors.overrun_effects import OverrunEffect, overrun_effect_list
from planner.selectors.overruns import overrun_list
from planner.selectors.plan_builds import plan_build_open_get
from planner.selectors.plans import PlanContent, plan_content_get, plan_published_get
from planner.selectors.stage_taps import last_tap_list
from planner.web.cautions import DEFERENCE
from planner.web.entrance.own_day import own_sheet
from planner.web.floor.cards import cards_of, jobs_of_day, own_jobs
from planner.web.here import Here, show, site_page
from planner.web.supervisor.breach_words import breach_words
from planner.web.supervisor.naming import names_get

PROBLEM_WORDS = (
    _("A bag loses air"),
    _("A pad stays cold or gets too hot"),
    _("Power or air is off"),
    _("Damage worse than marked"),
    _("Material or part missing"),
)
"""What is told most; gloves do not type."""


@site_page(Action.WORK_RECORD)
def floor(request: HttpRequest, here: Here) -> HttpResponse:
    """What the reader does today, or everybody for who is no technician; and everything that is hot."""
    plan = plan_published_get(user=here.user, site=here.site)
    now = timezone.now()
    people = attendants_get(user=here.user, site=here.site, now=now)
    me = people.of_user(here.user)
    attended = attended_tyre_list(user=here.user, site=here.site, now=now)
    taps = last_tap_list(user=here.user, site=here.site, now=now)
    context: dict[str, Any] = {"plan": plan, "now": now, "people": people, "me": me, "attended": attended}
    if plan is not None:
        content = plan_content_get(plan=plan)
        own = own_sheet(here, plan, now) if me else None
        wanted = own_jobs(own) if own else set() if me else jobs_of_day(content, _end_of_day(now))
        cards = cards_of(here, content, wanted, attended, taps, now)
        context |= {"own": own, "cards": cards}
        shown = {card.damage for card in cards}
        taps = [tap for tap in taps if tap.run.damage_id not in shown]
        context |= _overruns(here, plan, content, now)
    template = "floor/body.html" if getattr(request, "htmx", False) else "floor/floor.html"
    return show(
        request, here, template, "floor", deference=DEFERENCE, problem_words=PROBLEM_WORDS,
        taps=taps, **context,
    )  # fmt: skip


def _overruns(here: Here, plan: Plan, content: PlanContent, now: datetime) -> dict[str, Any]:
    """What runs over its plan; with its effect, and the offer to plan again, for who may do that."""
    if not here.allows(Action.PLAN_BUILD) or plan.horizon_end <= now:
        return {}
    overruns = overrun_list(user=here.user, site=here.site, plan=plan, now=now)
    effects = overrun_effect_list(plan=plan, overruns=overruns, now=now)
    return {
        "effects": [_in_words(here, content, each) for each in effects],
        "build": plan_build_open_get(user=here.user, site=here.site),
    }


def _in_words(here: Here, content: PlanContent, effect: OverrunEffect) -> OverrunEffect:
    """The effect with the bay's names for ids and its clock for minutes."""
    names = names_get(here, content.problem)
    return replace(effect, breaches=tuple(breach_words(each, names) for each in effect.breaches))


def _end_of_day(now: datetime) -> datetime:
    tomorrow = timezone.localdate(now) + timedelta(days=1)
    return datetime.combine(tomorrow, time(), timezone.get_current_timezone())
