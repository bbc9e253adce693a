"""Which route, sets and positions suit an injury of a tyre, and why there is none."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from planner.domain.injury import Injury
from planner.domain.routing import InjuryLimit
from planner.domain.sentences import _
from planner.domain.size_reading import size_read
from planner.domain.sizes import SizeRange, TyreSize
from planner.models import DamageLimit, HeaterSet, Position, Route, SizeClass
from planner.selectors.resources import heater_set_faults
from planner.selectors.routes import RouteTable


class NoFitError(Exception):
    """Raised with the reason, in plain words, why work cannot enter the problem."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FitTables:
    """The site's tables that are read once for all work."""

    size_classes: Sequence[SizeClass]
    routes: Sequence[Route]
    limits: Sequence[DamageLimit]
    heater_sets: Sequence[HeaterSet]
    positions: Sequence[Position]
    day: date

    @property
    def _table(self) -> RouteTable:
        return RouteTable(size_classes=self.size_classes, routes=self.routes)

    def route(self, size: TyreSize, injury: Injury) -> Route:
        """The site's route for the zone; NoFitError where it has none."""
        found = self._table.route(size, injury.zone)
        if found is None:
            raise NoFitError(
                _("the site has no route for a {zone} repair of {size}", zone=injury.zone, size=size)
            )
        return found

    def refuse_over_limit(self, size: TyreSize, injury: Injury) -> None:
        """Raise NoFitError where the injury is over the site's limits, naming the figures."""
        size_class = self._table.size_class(size)
        classes = {None, size_class.pk if size_class else None}
        for row in self.limits:
            if row.zone == injury.zone and row.size_class_id in classes:
                faults = limit_of(row).faults(injury)
                if faults:
                    raise NoFitError(
                        _(
                            "the {zone} injury may not be repaired: {faults:list}",
                            zone=injury.zone,
                            faults=faults,
                        )
                    )

    def sets_for(self, size: TyreSize, injury: Injury) -> tuple[str, ...]:
        """Codes of the sets that fit size and zone and are fit for use."""
        fitting = [row for row in self.heater_sets if _fits(row, size, injury)]
        if not fitting:
            raise NoFitError(
                _("no heater set of the site fits the {zone} of {size}", zone=injury.zone, size=size)
            )
        faults = {row: heater_set_faults(heater_set=row, day=self.day) for row in fitting}
        usable = tuple(row.code for row in fitting if not faults[row])
        if not usable:
            why = tuple(_("{code}: {faults}", code=row.code, faults=faults[row]) for row in fitting)
            raise NoFitError(
                _(
                    "every heater set that fits the {zone} of {size} is out ({why:list})",
                    zone=injury.zone,
                    size=size,
                    why=why,
                )
            )
        return usable

    def positions_for(self, size: TyreSize, kind: str) -> tuple[str, ...]:
        """Codes of the positions of a kind that are large enough."""
        of_kind = [row for row in self.positions if kind in {each.code for each in row.kinds.all()}]
        if not of_kind:
            raise NoFitError(_("the bay has no {kind} position", kind=kind))
        large_enough = tuple(row.code for row in of_kind if _has_room(row, size))
        if not large_enough:
            largest = tuple(
                _("{code} takes up to {largest_size}", code=row.code, largest_size=row.largest_size)
                for row in of_kind
            )
            raise NoFitError(
                _(
                    "no {kind} position is large enough for {size} ({largest})",
                    kind=kind,
                    size=size,
                    largest=largest,
                )
            )
        return large_enough


def limit_of(row: DamageLimit) -> InjuryLimit:
    """A stored limit as a value of the domain."""
    return InjuryLimit(
        source=row.source,
        largest_length_mm=row.largest_length_mm,
        largest_width_mm=row.largest_width_mm,
        largest_depth_mm=row.largest_depth_mm,
        most_plies=row.most_plies,
    )


def _fits(row: HeaterSet, size: TyreSize, injury: Injury) -> bool:
    return any(
        SizeRange(smallest=size_read(fit.smallest_size).size, largest=size_read(fit.largest_size).size).holds(
            size
        )
        for fit in row.fits.all()
        if fit.zone == injury.zone
    )


def _has_room(row: Position, size: TyreSize) -> bool:
    if not row.largest_size:
        return True
    largest = size_read(row.largest_size).size
    return size.width_mm <= largest.width_mm and size.rim_inch <= largest.rim_inch
