"""The addresses of everything that an administrator keeps."""

from collections.abc import Iterator

from django.urls import URLPattern, path

from api.nouns.views import noun_views

KINDS = {
    "skills": ("skill", "skill"),
    "technicians": ("technician", "technician"),
    "position-kinds": ("positionkind", "position_kind"),
    "positions": ("position", "position"),
    "heater-sets": ("heaterset", "heater_set"),
    "heater-set-fits": ("heatersetfit", "heater_set_fit"),
    "heater-set-parts": ("heatersetpart", "heater_set_part"),
    "machines": ("machine", "machine"),
    "roster-patterns": ("rosterpattern", "roster_pattern"),
    "pattern-breaks": ("patternbreak", "pattern_break"),
    "roster-exceptions": ("rosterexception", "roster_exception"),
    "closures": ("closure", "closure"),
    "isolations": ("isolation", "isolation"),
    "size-classes": ("sizeclass", "size_class"),
    "routes": ("route", "route"),
    "route-stages": ("routestage", "route_stage"),
    "damage-limits": ("damagelimit", "damage_limit"),
    "materials": ("material", "material"),
    "material-lots": ("materiallot", "material_lot"),
    "cure-chart-lines": ("curechartline", "cure_chart_line"),
    "zone-cures": ("zonecure", "zone_cure"),
    "cure-limits": ("curelimitrow", "cure_limit"),
    "members": ("sitemembership", "member"),
}
"""The part of the address, the kind of row, and the stem of its operations."""


def _paths() -> Iterator[URLPattern]:
    for address, (noun, name) in KINDS.items():
        many, single = noun_views(noun, name)
        yield path(f"{address}/", many.as_view())
        yield path(f"{address}/<row:row>/", single.as_view())


urlpatterns = list(_paths())
