"""What a site still lacks before a first plan can be made."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from django.db.models import Count
from django.utils.translation import gettext as _

from planner.domain.heater_parts import PartKind
from planner.domain.permissions import Action, Role
from planner.models import (
    HeaterSet,
    Position,
    Route,
    RouteStage,
    Shift,
    Site,
    SiteMembership,
    Technician,
    User,
)
from planner.selectors.access import require_on_site


@dataclass(frozen=True, slots=True, kw_only=True)
class Lack:
    """One thing that is missing, in words, and the noun whose rows would mend it."""

    words: str
    noun: str


def site_lack_list(*, user: User, site: Site, today: date) -> list[Lack]:
    """Everything that keeps a site from a plan, in the order in which it is best put right."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return [*_people(site), *_places(site), *_sets(site), *_routes(site), *_hours(site, today)]


def _people(site: Site) -> Iterator[Lack]:
    if not SiteMembership.objects.filter(site=site, role=Role.SUPERVISOR).exists():
        yield Lack(words=_("nobody is a supervisor, who builds and publishes plans"), noun="sitemembership")
    people = Technician.objects.filter(site=site, active=True)
    if not people.exists():
        yield Lack(words=_("there is no technician"), noun="technician")
    elif not people.filter(skills__code=site.watch_skill).exists():
        words = _("no technician has the skill of the watch, %s") % site.watch_skill
        yield Lack(words=words, noun="technician")


def _places(site: Site) -> Iterator[Lack]:
    if not Position.objects.filter(site=site, active=True).exists():
        yield Lack(words=_("there is no position on the floor"), noun="position")


def _sets(site: Site) -> Iterator[Lack]:
    sets = HeaterSet.objects.filter(site=site, active=True)
    if not sets.exists():
        yield Lack(words=_("there is no heater set"), noun="heaterset")
    for code in sets.filter(fits=None).order_by("code").values_list("code", flat=True):
        yield Lack(words=_("nothing says what %s fits") % code, noun="heatersetfit")
    counted = sets.annotate(kinds=Count("parts__kind", distinct=True)).filter(kinds__lt=len(PartKind))
    for code in counted.order_by("code").values_list("code", flat=True):
        words = _("%s lacks parts: both pads, both bags and a frame make a set") % code
        yield Lack(words=words, noun="heatersetpart")


def _routes(site: Site) -> Iterator[Lack]:
    routes = Route.objects.filter(site=site, active=True)
    if not routes.exists():
        yield Lack(words=_("there is no route: the stages of one kind of repair"), noun="route")
    for code in routes.filter(stages=None).order_by("code").values_list("code", flat=True):
        yield Lack(words=_("route %s has no stages") % code, noun="routestage")
    stages = RouteStage.objects.filter(route__in=routes)
    skills = set(Technician.objects.filter(site=site, active=True).values_list("skills__code", flat=True))
    for skill in sorted(set(stages.filter(skill__isnull=False).values_list("skill__code", flat=True))):
        if skill not in skills:
            yield Lack(words=_("stages ask for the skill %s, which nobody has") % skill, noun="technician")
    kinds = set(Position.objects.filter(site=site, active=True).values_list("kinds__code", flat=True))
    for kind in sorted(set(stages.filter(place__isnull=False).values_list("place__code", flat=True))):
        if kind not in kinds:
            words = _("stages ask for a position of the kind %s, and there is none") % kind
            yield Lack(words=words, noun="position")


def _hours(site: Site, today: date) -> Iterator[Lack]:
    if not Shift.objects.filter(site=site, day__gte=today).exists():
        words = _("nobody is on shift: give the crew patterns, then put the roster on the calendar below")
        yield Lack(words=words, noun="rosterpattern")
