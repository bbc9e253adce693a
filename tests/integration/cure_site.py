"""An invented site with one injured tyre, a material with its chart and lots, and two people."""

from datetime import UTC, date, datetime
from decimal import Decimal

from planner.domain.injury import Injury, InjurySource, Zone
from planner.domain.permissions import Role
from planner.models import (
    CureChartLine,
    Damage,
    Material,
    MaterialLot,
    Site,
    SiteMembership,
    User,
    WorkOrder,
    ZoneCure,
)
from planner.services.damage_registration import DamageReport, damage_register
from planner.services.sites import site_open


class CureSite:
    """The site's people and things by name."""

    def __init__(self) -> None:
        administrator = User.objects.create_user(username="adele", password="x")
        self.site: Site = site_open(
            administrator=administrator, code="north", name="North bay", time_zone="Australia/Perth",
            currency="AUD",
        )  # fmt: skip
        self.supervisor = self._member("sol", Role.SUPERVISOR)
        self.technician = self._member("tess", Role.TECHNICIAN)
        self.accountant = self._member("abe", Role.ACCOUNTANT)
        injury = Injury(zone=Zone.SIDEWALL, length_mm=200, width_mm=100, depth_mm=40)
        report = DamageReport(
            serial="N1", size_as_written="29.5R25", injury=injury,
            needed_by=datetime(2030, 1, 1, tzinfo=UTC), demounted=True,
        )  # fmt: skip
        self.order: WorkOrder = damage_register(user=self.supervisor, site=self.site, report=report)
        self.damage: Damage = self.order.damages.get()
        self.material = Material.objects.create(
            site=self.site, code="fill", name="Fill stock", reference_c=140, t90_min=20, scorch_min=5,
            reversion_min=240, ten_degree_factor=2, conductivity_w_mk=0.2, density_kg_m3=1000,
            heat_capacity_j_kgk=2000,
        )  # fmt: skip
        ZoneCure.objects.create(
            site=self.site, zone=Zone.SIDEWALL, material=self.material, set_kind="sidewall"
        )
        self._chart((20, 60), (40, 90), (60, 130))

    def _member(self, name: str, role: Role) -> User:
        user = User.objects.create_user(username=name, password="x")
        SiteMembership.objects.create(site=self.site, user=user, role=role)
        return user

    def _chart(self, *lines: tuple[int, int]) -> None:
        for thickness, minutes in lines:
            CureChartLine.objects.create(
                site=self.site, material=self.material, set_kind="sidewall", thickness_mm=thickness,
                timed_min=minutes, source="maker's sheet",
            )  # fmt: skip

    def measure(self, depth_mm: int) -> None:
        """The injury is measured after skiving."""
        Damage.objects.filter(pk=self.damage.pk).update(depth_mm=depth_mm, source=InjurySource.MEASURED)
        self.damage.refresh_from_db()

    def lot(self, code: str, expires_on: date, quantity: str = "10") -> MaterialLot:
        """A lot received at the start of 2026."""
        return MaterialLot.objects.create(
            site=self.site, material=self.material, code=code, received_on=date(2026, 1, 1),
            expires_on=expires_on, quantity=Decimal(quantity),
        )  # fmt: skip
