"""A small site on a database with a bay, books and one damaged tyre; figures are worked out in the tests."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from django.utils import timezone

from planner.costing.assumptions import Assumption
from planner.domain.injury import InjuryMeasure, InjurySource, Zone
from planner.domain.permissions import Role
from planner.domain.work import StageKind
from planner.models import (
    CostAssumption,
    CostPrice,
    Damage,
    HeaterSet,
    HeaterSetFit,
    PositionKind,
    Route,
    RouteStage,
    Site,
    SiteMembership,
    Skill,
    StageRun,
    Technician,
    Tyre,
    User,
    WorkOrder,
)

START = date(2024, 1, 1)
RECEIVED = datetime(2026, 10, 5, 2, 0, tzinfo=UTC)
ASSUMED = {
    Assumption.DISCOUNT_RATE: "0",
    Assumption.HOURS_A_YEAR: "5000",
    Assumption.WAITING_COST: "100",
    Assumption.FAILURE_ODDS: "0.1",
    Assumption.REWORK_ODDS: "0.05",
    Assumption.SET_KWH_AN_HOUR: "6",
    Assumption.RUBBER_KG_A_LITRE: "1.5",
    Assumption.TRIPS: "2",
    Assumption.INSPECTIONS: "1",
    Assumption.REPAIRED_LIFE: "4000",
    Assumption.REPAIRED_SHAPE: "1.5",
    Assumption.NEW_LIFE: "8000",
    Assumption.NEW_SHAPE: "2",
    Assumption.TREAD_WEAR: "5",
    Assumption.LEAST_TREAD: "10",
    Assumption.GREATEST_AGE: "8",
    Assumption.MOST_REPAIRS: "3",
    Assumption.COST_SPREAD: "0.2",
    Assumption.CLEAR_ODDS: "0.7",
    Assumption.LEAD_TIME: "720",
    Assumption.REPAIR_TIME: "72",
    Assumption.ONE_APPROVAL: "500",
    Assumption.TWO_APPROVALS: "5000",
}
# kind, item, unit, amount, loading, overtime factor
PRICES = (
    ("labour", "fitter", "h", "40", "0.25", "1.5"),
    ("materials", "repair rubber", "kg", "20", "0", "1"),
    ("energy", "electricity", "kWh", "0.30", "0", "1"),
    ("heater set", "H1", "h", "12", "0", "1"),
    ("bay overhead", "bay hour", "h", "9", "0", "1"),
    ("transport", "trip", "trip", "150", "0", "1"),
    ("inspection", "final inspection", "inspection", "85", "0", "1"),
    ("disposal", "scrapped tyre", "tyre", "900", "0", "1"),
    ("buy new", "27.00R49", "tyre", "20000", "0", "1"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Books:
    """The site with one person for each role, and one damaged tyre's order."""

    site: Site
    people: dict[Role, User]
    order: WorkOrder
    technician: Technician
    heater_set: HeaterSet

    @property
    def accountant(self) -> User:
        """The site's accountant."""
        return self.people[Role.ACCOUNTANT]


def books() -> Books:
    """The site with everything on file."""
    site = Site.objects.create(
        code="gum-creek", name="Gum Creek", time_zone="Australia/Perth", currency="AUD"
    )
    people = {role: _person(site, role) for role in Role}
    prices_add(site)
    for name, value in ASSUMED.items():
        assumption_add(site, people[Role.ACCOUNTANT], name, value)
    technician, heater_set = _bay(site)
    order = order_add(site, people[Role.SUPERVISOR], 1)
    return Books(site=site, people=people, order=order, technician=technician, heater_set=heater_set)


def _person(site: Site, role: Role) -> User:
    user = User.objects.create_user(username=f"{role}-{site.code}")
    SiteMembership.objects.create(site=site, user=user, role=role)
    return user


def prices_add(site: Site) -> None:
    """The site's price list."""
    for kind, item, unit, amount, loading, factor in PRICES:
        CostPrice.objects.create(
            site=site,
            kind=kind,
            item=item,
            unit=unit,
            amount=Decimal(amount),
            currency="AUD",
            loading=Decimal(loading),
            overtime_factor=Decimal(factor),
            effective_from=START,
            source="price list",
        )


def assumption_add(
    site: Site, author: User, name: Assumption, value: str, since: date = START
) -> CostAssumption:
    """An accepted assumption."""
    return CostAssumption.objects.create(
        site=site,
        name=name,
        value=Decimal(value),
        effective_from=since,
        reason="for the test",
        author=author,
        state="accepted",
        decided_by=author,
        decided_at=timezone.now(),
    )


def _bay(site: Site) -> tuple[Technician, HeaterSet]:
    skill = Skill.objects.create(site=site, code="prep", name="Preparation")
    watch = Skill.objects.create(site=site, code="cure", name="Cure")
    technician = Technician.objects.create(site=site, code="T1", name="Ada", grade="fitter")
    technician.skills.set([skill, watch])
    place = PositionKind.objects.create(site=site, code="cure", name="Cure")
    heater_set = HeaterSet.objects.create(site=site, code="H1", name="Set one", channels=2, power_kw=10)
    HeaterSetFit.objects.create(
        heater_set=heater_set, zone=Zone.SIDEWALL, smallest_size="24.00R49", largest_size="27.00R49"
    )
    route = Route.objects.create(site=site, code="side", name="Sidewall", zone=Zone.SIDEWALL)
    RouteStage.objects.create(
        route=route, sequence=1, name="skive", kind=StageKind.HANDS_ON, base_minutes=300, crew=2, skill=skill
    )
    RouteStage.objects.create(
        route=route, sequence=2, name="cure", kind=StageKind.ENERGISED, base_minutes=100, block=True,
        place=place, minutes_per_unit=2, unit=InjuryMeasure.DEPTH_MM,
    )  # fmt: skip
    return technician, heater_set


def order_add(site: Site, user: User, number: int, zone: Zone = Zone.SIDEWALL) -> WorkOrder:
    """A tyre with an injury of 200 × 100 × 50 mm, 1 litre, and its order."""
    tyre = Tyre.objects.create(
        site=site, serial=f"SN{number:05d}", size="27.00R49", size_as_written="27.00R49",
        tread_depth_mm=60, made_on=date(2024, 6, 1), hours_run=4000,
    )  # fmt: skip
    order = WorkOrder.objects.create(
        site=site, number=number, tyre=tyre, priority=10, received_at=RECEIVED, released_at=RECEIVED,
        needed_by=RECEIVED + timedelta(days=5),
    )  # fmt: skip
    Damage.objects.create(
        site=site, tyre=tyre, work_order=order, zone=zone, length_mm=200, width_mm=100, depth_mm=50,
        source=InjurySource.MEASURED, noted_at=RECEIVED, noted_by=user,
    )  # fmt: skip
    return order


def done(found: Books, state: str = "repaired") -> None:
    """Record 330 min of skiving by one fitter and 230 min of cure on H1, and end the order in October."""
    order = found.order
    damage = order.damages.get()
    for sequence, name, minutes in ((1, "skive", 330), (2, "cure", 230)):
        run = StageRun.objects.create(
            site=found.site, work_order=order, damage=damage, sequence=sequence, name=name, state="done",
            started_at=RECEIVED, ended_at=RECEIVED + timedelta(minutes=minutes),
            heater_set=found.heater_set if name == "cure" else None,
        )  # fmt: skip
        if name == "skive":
            run.technicians.set([found.technician])
    order.state, order.closed_at = state, RECEIVED + timedelta(days=1)
    order.save()
