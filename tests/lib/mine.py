"""A small mine made through the services, for tests that need rows."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from planner.domain.heater_parts import PartKind
from planner.domain.injury import Zone
from planner.models import Damage, HeaterSet, Position, Site, Tyre, User, WorkOrder
from planner.services.nouns import noun_add
from planner.services.rosters import shifts_make
from planner.services.sites import site_open
from planner.services.tyres import damage_record, tyre_register
from planner.services.work_orders import work_order_decide_to_repair, work_order_receive

DAY = date(2026, 3, 2)
ZONE = ZoneInfo("Australia/Perth")
ROLES = ("administrator", "supervisor", "planner", "accountant", "technician")


def at(hour: int, minute: int = 0, days: int = 0) -> datetime:
    """A wall time at the mine, `days` after its Monday."""
    return datetime.combine(DAY + timedelta(days=days), time(hour, minute), ZONE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mine:
    """A site with one user for each role."""

    site: Site
    users: dict[str, User]

    @property
    def supervisor(self) -> User:
        """Who plans."""
        return self.users["supervisor"]

    def add(self, noun: str, **values: Any) -> Any:
        """Add a row as the administrator."""
        return noun_add(user=self.users["administrator"], site=self.site, noun=noun, values=values)

    def order(
        self, serial: str, size: str = "20.5R25", zone: Zone = Zone.SIDEWALL, **facts: Any
    ) -> WorkOrder:
        """A tyre with one injury, received and to be repaired."""
        tyre = tyre_register(user=self.supervisor, site=self.site, serial=serial, size_as_written=size)
        self.damage(tyre, zone=zone)
        facts = {"needed_by": at(6, days=3), "received_at": at(6, days=-1), **facts}
        order = work_order_receive(user=self.supervisor, site=self.site, tyre=tyre, **facts)
        work_order_decide_to_repair(user=self.supervisor, work_order=order)
        return order

    def damage(self, tyre: Tyre, zone: Zone = Zone.SIDEWALL, depth_mm: int = 20) -> Damage:
        """An injury of 100 × 80 mm."""
        return damage_record(
            user=self.supervisor, tyre=tyre, zone=zone, length_mm=100, width_mm=80, depth_mm=depth_mm
        )

    def heater_set(self, code: str, smallest: str = "14.00-24", largest: str = "29.5-29") -> HeaterSet:
        """A whole set for sidewalls."""
        row = self.add("heaterset", code=code, name=code, channels=2, power_kw=6)
        for kind in PartKind:
            self.add("heatersetpart", heater_set=row, kind=kind.value)
        self.add(
            "heatersetfit", heater_set=row, zone="sidewall", smallest_size=smallest, largest_size=largest
        )
        assert isinstance(row, HeaterSet)
        return row

    def position(self, code: str) -> Position:
        """A position by its code."""
        return Position.objects.get(site=self.site, code=code)


def mine_open(code: str = "ridge") -> Mine:
    """A bare site with its users."""
    users = {role: User.objects.create_user(f"{role}-{code}") for role in ROLES}
    site = site_open(
        administrator=users["administrator"],
        code=code,
        name=f"Mine {code}",
        time_zone="Australia/Perth",
        currency="AUD",
    )
    mine = Mine(site=site, users=users)
    for role in ROLES[1:]:
        mine.add("sitemembership", user=users[role], role=role)
    return mine


def mine_equipped(code: str = "ridge") -> Mine:
    """A site with two technicians from 06:00 to 18:00, two positions, one set and a sidewall route."""
    mine = mine_open(code)
    skills = [mine.add("skill", code=each, name=each) for each in ("prep", "cure")]
    for name in ("T1", "T2"):
        person = mine.add("technician", code=name, name=name, skills=skills)
        pattern = mine.add(
            "rosterpattern",
            technician=person,
            recurrence="FREQ=DAILY",
            first_day=DAY,
            starts_at=time(6),
            ends_at=time(18),
        )
        mine.add("patternbreak", pattern=pattern, after_minutes=360, minutes=30)
    last = DAY + timedelta(days=6)
    shifts_make(user=mine.users["administrator"], site=mine.site, first_day=DAY, last_day=last)
    kinds = {each: mine.add("positionkind", code=each, name=each) for each in ("prep", "cure")}
    for name, kind in (("P1", "prep"), ("C1", "cure")):
        mine.add("position", code=name, name=name, kinds=[kinds[kind]])
    mine.heater_set("H1")
    _route(mine, skills, kinds)
    return mine


def _route(mine: Mine, skills: list[Any], kinds: dict[str, Any]) -> None:
    """Skive 60, fill 30, then a heat block of rig 30, cure 60 + 2 for each mm, cool 30, strip 30 [min]."""
    route = mine.add("route", code="side", name="Sidewall", zone="sidewall")
    prep = {"kind": "hands_on", "crew": 1, "skill": skills[0], "place": kinds["prep"], "pausable": True}
    cure = {"block": True, "place": kinds["cure"]}
    hands = {"kind": "hands_on", "crew": 1, "skill": skills[1], **cure}
    stages: list[dict[str, Any]] = [
        {"name": "Skive", "base_minutes": 60, **prep},
        {"name": "Fill", "base_minutes": 30, **prep},
        {"name": "Rig", "base_minutes": 30, **hands},
        {
            "name": "Cure",
            "kind": "energised",
            "base_minutes": 60,
            "minutes_per_unit": 2,
            "unit": "depth_mm",
            "largest_units": 40,
            **cure,
        },
        {"name": "Cool", "kind": "pressurised", "base_minutes": 30, **cure},
        {"name": "Strip", "base_minutes": 30, **hands},
    ]
    for sequence, stage in enumerate(stages, start=1):
        mine.add("routestage", route=route, sequence=sequence, **stage)
