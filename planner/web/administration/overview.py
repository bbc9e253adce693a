"""The administrator's first page: every table of the site with what is in it, its rules, and the calendar."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError, UserError
from planner.domain.permissions import Action
from planner.selectors.kept_nouns import noun_list
from planner.selectors.memberships import member_waiting_list
from planner.selectors.nouns import SiteMembership
from planner.selectors.site_readiness import site_lack_list
from planner.selectors.telling import in_words
from planner.services.nouns import NOUNS
from planner.services.plan_guard import PlanBreaksError
from planner.services.site_tables.changing import roster_extend, roster_last_day, rules_change
from planner.services.site_tables.tables import GROUPS, SITE_TABLES, SiteTable
from planner.web.administration.broken import broken_of
from planner.web.administration.forms import rules_form
from planner.web.here import Here, show, site_page, tell


@site_page(Action.CLOSURE_CHANGE)
def overview(request: HttpRequest, here: Here) -> HttpResponse:
    """The tables that the reader may change, under their headings."""
    return _overview(request, here)


@require_POST
@site_page(Action.ROSTER_CHANGE)
def calendar(request: HttpRequest, here: Here) -> HttpResponse:
    """Put the roster on the calendar up to a day."""
    try:
        last_day = date.fromisoformat(request.POST.get("last_day", ""))
    except ValueError as fault:
        raise InvalidValueError(_("Choose a day.")) from fault
    accepted = request.POST.get("accepted") == "yes"
    try:
        made = roster_extend(user=here.user, site=here.site, last_day=last_day, accepted=accepted)
    except PlanBreaksError as error:
        return _overview(request, here, broken=broken_of(here, error), last_day=last_day)
    tell(
        request,
        _("%(n)s shifts are on the calendar up to %(day)s.")
        % {"n": made, "day": date_format(last_day, "D j M Y")},
    )
    return redirect("administration", here.site.code)


@site_page(Action.SITE_CHANGE)
def rules(request: HttpRequest, here: Here) -> HttpResponse:
    """The site's name, units and rules."""
    version = here.site.version
    form = rules_form(here.site, request.POST or None)
    context: dict[str, Any] = {"broken": None, "version": version}
    if request.method == "POST" and form.is_valid():
        sent = request.POST.get("version", "")
        here.site.refresh_from_db()
        try:
            rules_change(
                user=here.user, site=here.site, values=form.values(), why=request.POST.get("why", ""),
                accepted=request.POST.get("accepted") == "yes",
                expected_version=int(sent) if sent.isdecimal() else None,
            )  # fmt: skip
        except PlanBreaksError as error:
            context["broken"] = broken_of(here, error)
        except UserError as fault:
            form.add_error(None, in_words(fault))
        else:
            tell(request, _("The rules are on file."))
            return redirect("administration", here.site.code)
    return show(request, here, "administration/rules.html", "administration", form=form, **context)


def _overview(request: HttpRequest, here: Here, **context: object) -> HttpResponse:
    tables = [table for table in SITE_TABLES.values() if here.allows(NOUNS[table.noun].action)]
    groups = [
        (words, [_counted(here, each) for each in tables if each.group == group])
        for group, words in GROUPS.items()
    ]
    waiting: Iterable[SiteMembership] = ()
    if here.allows(Action.MEMBER_CHANGE):
        waiting = member_waiting_list(user=here.user, site=here.site)
    return show(
        request, here, "administration/overview.html", "administration", waiting=waiting,
        groups=[(words, found) for words, found in groups if found],
        shifts_until=roster_last_day(site=here.site), lacks=_lacks(here), **context,
    )  # fmt: skip


def _lacks(here: Here) -> list[tuple[str, str]]:
    """What a plan still waits for, each with the page that mends it; empty where the reader may not."""
    found = site_lack_list(user=here.user, site=here.site, today=timezone.localdate())
    return [
        (each.words, reverse(f"table_{each.noun}", args=[here.site.code]))
        for each in found
        if here.allows(NOUNS[each.noun].action)
    ]


def _counted(here: Here, table: SiteTable) -> tuple[SiteTable, str, int]:
    count = noun_list(user=here.user, site=here.site, noun=table.noun).count()
    return table, f"table_{table.noun}", count
