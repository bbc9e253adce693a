"""What a site fills injuries of a zone with, and on which kind of set its chart reads them."""

from django.db import models

from planner.domain.injury import Zone
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.material import Material


class ZoneCure(SiteOwned):
    """The site's usual layers of a repair in one zone; an injury may name a material of its own."""

    zone = models.CharField(max_length=12, choices=choices_of(Zone))
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="+")
    set_kind = models.CharField(max_length=40, help_text="as in the cure chart")
    cushion = models.ForeignKey(
        Material, on_delete=models.PROTECT, null=True, blank=True, related_name="+",
        help_text="between casing and fill, where it was measured",
    )  # fmt: skip
    casing = models.ForeignKey(
        Material, on_delete=models.PROTECT, null=True, blank=True, related_name="+",
        help_text="the figures of the casing left under a repair, where it was measured",
    )  # fmt: skip

    class Meta:
        ordering = ("zone",)
        constraints = [
            models.UniqueConstraint(fields=("site", "zone"), name="zone_cure_one_for_a_zone"),
            one_of("zone", Zone, "zone_cure_zone"),
        ]

    def __str__(self) -> str:
        return f"{self.zone}: {self.material} on {self.set_kind}"
