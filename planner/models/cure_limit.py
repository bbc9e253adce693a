"""A limit of cures that a site, a heater set or a material has of its own."""

from django.db import models

from planner.domain.cure_limits import KINDS, CureLimit, ReleasePlace
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.heater_set import HeaterSet
from planner.models.material import Material

_LIMITS = [(limit.value, f"{kind.words} [{kind.unit}]") for limit, kind in KINDS.items()]


class CureLimitRow(SiteOwned):
    """One limit with who says so; what nobody gives is common practice.

    The narrower one holds: of material and set together, of the material, of the set, of the site.
    """

    limit = models.CharField(max_length=20, choices=_LIMITS)
    value = models.FloatField(help_text="in °C, °C/min, kPa or min as the limit's own unit is")
    place = models.CharField(
        max_length=12, blank=True, choices=choices_of(ReleasePlace),
        help_text="where a release temperature is taken; empty: the hottest point",
    )  # fmt: skip
    heater_set = models.ForeignKey(
        HeaterSet, on_delete=models.CASCADE, null=True, blank=True, related_name="+"
    )
    material = models.ForeignKey(Material, on_delete=models.CASCADE, null=True, blank=True, related_name="+")
    source = models.CharField(max_length=120, help_text="who says so: the maker's sheet and its edition")

    class Meta:
        verbose_name = "cure limit"
        ordering = ("limit", "pk")
        constraints = [
            one_of("limit", CureLimit, "cure_limit_kind"),
            models.CheckConstraint(
                condition=models.Q(place__in=["", *(each.value for each in ReleasePlace)]),
                name="cure_limit_place",
            ),
            *(
                models.UniqueConstraint(
                    fields=("site", "limit", *named),
                    condition=models.Q(
                        **{f"{name}__isnull": name not in named for name in ("heater_set", "material")}
                    ),
                    name=f"cure_limit_once_{'_'.join(named) or 'site'}",
                )
                for named in ((), ("heater_set",), ("material",), ("heater_set", "material"))
            ),
        ]

    def __str__(self) -> str:
        kind = KINDS[CureLimit(self.limit)] if self.limit in KINDS else None
        words = f"{kind.words} {self.value:g} {kind.unit}" if kind else self.limit
        return f"{words} ({self.scope})"

    @property
    def scope(self) -> str:
        """For what it holds."""
        names = [str(each) for each in (self.material, self.heater_set) if each is not None]
        return " on ".join(names) or "the whole site"
