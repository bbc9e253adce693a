"""Repair materials: what the maker says of a compound, and its lots with their dates."""

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models

from planner.models.base import NamedOnSite, SiteOwned, WrittenOnce
from planner.models.work_order import WorkOrder


class Material(NamedOnSite):
    """A material of the store; the figures of its cure are the maker's or a curemeter's."""

    unit = models.CharField(max_length=8, default="kg")
    least_stock = models.DecimalField(
        max_digits=9, decimal_places=3, default=0, validators=[MinValueValidator(0)]
    )
    storage = models.CharField(max_length=120, blank=True, help_text="as the maker asks")
    reference_c = models.FloatField(null=True, blank=True, help_text="of the maker's figures [°C]")
    t90_min = models.FloatField(null=True, blank=True, help_text="at the reference temperature [min]")
    scorch_min = models.FloatField(null=True, blank=True, help_text="[min]")
    reversion_min = models.FloatField(null=True, blank=True, help_text="equivalent minutes it bears [min]")
    reversion_c = models.FloatField(null=True, blank=True, help_text="[°C]")
    activation_energy_j_mol = models.FloatField(null=True, blank=True, help_text="[J/mol]")
    ten_degree_factor = models.FloatField(null=True, blank=True, help_text="where no energy is given [-]")
    conductivity_w_mk = models.FloatField(null=True, blank=True, help_text="[W/mK]")
    density_kg_m3 = models.FloatField(null=True, blank=True, help_text="[kg/m3]")
    heat_capacity_j_kgk = models.FloatField(null=True, blank=True, help_text="[J/kgK]")

    class Meta:
        ordering = ("code",)
        constraints = [models.UniqueConstraint(fields=("site", "code"), name="material_code_on_site")]


class MaterialLot(SiteOwned):
    """One delivery of a material with the maker's date."""

    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="lots")
    code = models.CharField(max_length=60)
    received_on = models.DateField()
    expires_on = models.DateField()
    quantity = models.DecimalField(max_digits=9, decimal_places=3, validators=[MinValueValidator(0)])

    class Meta:
        ordering = ("expires_on", "pk")
        constraints = [
            models.UniqueConstraint(fields=("material", "code"), name="material_lot_code"),
            models.CheckConstraint(
                condition=models.Q(expires_on__gte=models.F("received_on")), name="material_lot_dates"
            ),
        ]

    def __str__(self) -> str:
        return f"lot {self.code} of {self.material}"


class MaterialUse(WrittenOnce):
    """What a repair took from a lot; written once."""

    lot = models.ForeignKey(MaterialLot, on_delete=models.PROTECT, related_name="uses")
    work_order = models.ForeignKey(WorkOrder, on_delete=models.PROTECT, related_name="material_uses")
    quantity = models.DecimalField(max_digits=9, decimal_places=3, validators=[MinValueValidator(0)])
    used_at = models.DateTimeField()
    used_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("used_at", "pk")
        constraints = [
            models.CheckConstraint(condition=models.Q(quantity__gt=0), name="material_use_is_something")
        ]

    def __str__(self) -> str:
        return f"{self.quantity.normalize():f} {self.lot.material.unit} of {self.lot} for {self.work_order}"
