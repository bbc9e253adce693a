"""What the cost of any repair of a site is worked out from, read once for many orders."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.sentences import _
from planner.domain.size_reading import size_read
from planner.domain.sizes import SizeRange, TyreSize
from planner.domain.states import OPEN_WORK
from planner.domain.work import Stage
from planner.models import Damage, HeaterSet, Route, Site, SizeClass, Technician, WorkOrder, ZoneCure
from planner.selectors.cure_figures import CureFigures, cure_figures_by_damage
from planner.selectors.day_problem.cure_stages import stages_with_cure
from planner.selectors.day_problem.jobs import stages_of
from planner.selectors.routes import RouteTable

UNGRADED = "technician"


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingSet:
    """The sizes and the zone that a heater set fits."""

    heater_set: str
    zone: str
    sizes: SizeRange


@dataclass(frozen=True, slots=True, kw_only=True)
class CostedBay:
    """The usual grade of each skill, the routes, what fills each zone, and which set fits what.

    `minutes` are those of the cures of the open work that was asked for, by injury, as plans have them.
    """

    grades: Mapping[str, str]
    routes: RouteTable
    cures: Mapping[str, ZoneCure]
    sets: Sequence[FittingSet]
    minutes: Mapping[int, CureFigures]

    def grade_of(self, skill: str | None) -> str:
        """The grade that is paid for work with this skill."""
        return self.grades.get(skill or "", UNGRADED)

    def route_of(self, order: WorkOrder, zone: str) -> Route:
        """The order's own route, else the site's for the zone; NotFoundError where there is none."""
        if order.route_id is not None:
            own = (route for route in self.routes.routes if route.pk == order.route_id)
            return next(own, None) or order.route  # type: ignore[return-value]
        size = size_read(order.tyre.size).size
        found = self.routes.route(size, zone)
        if found is None:
            raise NotFoundError(
                _("the site has no route for a {zone} repair of {size}", zone=zone, size=size)
            )
        return found

    def stages_of(self, order: WorkOrder, damage: Damage) -> tuple[Stage, ...]:
        """The stages of the injury's repair, the heat block as long as its cure."""
        stages = stages_of(self.route_of(order, damage.zone), damage)
        return stages_with_cure(stages, self.minutes.get(damage.pk))

    def set_for(self, size: TyreSize, zone: str) -> str | None:
        """The first set, by code, that fits the size and the zone."""
        fitting = (each for each in self.sets if each.zone == zone and each.sizes.holds(size))
        return next((each.heater_set for each in fitting), None)


def costed_bay_get(*, site: Site, order: WorkOrder | None = None) -> CostedBay:
    """The site's bay as it is today, with the cures of this order alone, or of all open work."""
    routes = Route.objects.filter(site=site, active=True)
    cures = ZoneCure.objects.filter(site=site).select_related("material", "cushion")
    return CostedBay(
        grades=_grades(site),
        routes=RouteTable(
            size_classes=list(SizeClass.objects.filter(site=site)),
            routes=list(routes.prefetch_related("stages__skill", "stages__place")),
        ),
        cures={row.zone: row for row in cures},
        sets=_sets(site),
        minutes=cure_figures_by_damage(site=site, damages=list(_open_damages(site, order))),
    )


def _open_damages(site: Site, order: WorkOrder | None) -> QuerySet[Damage]:
    damages = Damage.objects.filter(site=site, work_order__state__in=OPEN_WORK)
    return damages if order is None else damages.filter(work_order=order)


def _grades(site: Site) -> dict[str, str]:
    """The commonest grade among the technicians who have the skill."""
    found: dict[str, Counter[str]] = {}
    for technician in Technician.objects.filter(site=site, active=True).prefetch_related("skills"):
        for skill in technician.skills.all():
            found.setdefault(skill.code, Counter())[technician.grade or UNGRADED] += 1
    return {skill: min(grades, key=lambda grade: (-grades[grade], grade)) for skill, grades in found.items()}


def _sets(site: Site) -> list[FittingSet]:
    return [
        FittingSet(
            heater_set=row.code,
            zone=fit.zone,
            sizes=SizeRange(
                smallest=size_read(fit.smallest_size).size, largest=size_read(fit.largest_size).size
            ),
        )
        for row in HeaterSet.objects.filter(site=site, active=True).order_by("code").prefetch_related("fits")
        for fit in row.fits.all()
    ]
