"""Who and what the demo's past repairs were done with: the crew of the day, sets that fit, positions."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from random import Random

from planner.domain.size_reading import size_read
from planner.domain.sizes import SizeRange, TyreSize
from planner.domain.work import Stage
from planner.models import HeaterSet, Position, Site, Technician
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import table_of_site

_DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")


@dataclass(frozen=True, slots=True, kw_only=True)
class PastCrew:
    """The site's technicians with their skills and days, its sets by what they fit, and its positions."""

    technicians: Sequence[tuple[Technician, frozenset[str], frozenset[str]]]
    fits: Sequence[tuple[HeaterSet, str, SizeRange]]
    positions: Mapping[str, Sequence[Position]]

    def on_duty(self, day: date) -> list[Technician]:
        """Everybody who works on that day of the week."""
        name = _DAYS[day.weekday()]
        return [technician for technician, _, days in self.technicians if name in days]

    def people(self, stage: Stage, at: datetime, random: Random) -> list[Technician]:
        """As many as the stage asks for, of those on duty who have the skill."""
        on_duty = self.on_duty(at.date())
        skilled = [
            technician
            for technician, skills, _ in self.technicians
            if stage.skill in skills and technician in on_duty
        ]
        return random.sample(skilled, min(stage.crew, len(skilled)))

    def heater_set(self, size: TyreSize, zone: str, random: Random) -> HeaterSet | None:
        """One that fits; mostly the first."""
        fitting = [row for row, fit_zone, sizes in self.fits if fit_zone == zone and sizes.holds(size)]
        if not fitting:
            return None
        return random.choices(fitting, [3, *[1] * (len(fitting) - 1)])[0]

    def position(self, kind: str | None, random: Random) -> Position | None:
        """One of the kind."""
        of_kind = self.positions.get(kind or "", ())
        return random.choice(of_kind) if of_kind else None


def past_crew_get(scene: Scene) -> PastCrew:
    """The crew and the bay as they are today."""
    rows = table_of_site("technicians", scene.site.code)
    days = {row["code"]: frozenset(row["days"].split()) for row in rows}
    people = Technician.objects.filter(site=scene.site, active=True).prefetch_related("skills")
    return PastCrew(
        technicians=[
            (row, frozenset(skill.code for skill in row.skills.all()), days.get(row.code, frozenset()))
            for row in people
        ],
        fits=_fits(scene.site),
        positions=_positions(scene.site),
    )


def _fits(site: Site) -> list[tuple[HeaterSet, str, SizeRange]]:
    sets = HeaterSet.objects.filter(site=site, active=True).prefetch_related("fits")
    return [
        (
            row,
            fit.zone,
            SizeRange(smallest=size_read(fit.smallest_size).size, largest=size_read(fit.largest_size).size),
        )
        for row in sets
        for fit in row.fits.all()
    ]


def _positions(site: Site) -> dict[str, list[Position]]:
    found: dict[str, list[Position]] = {}
    for row in Position.objects.filter(site=site, active=True).prefetch_related("kinds"):
        for kind in row.kinds.all():
            found.setdefault(kind.code, []).append(row)
    return found
