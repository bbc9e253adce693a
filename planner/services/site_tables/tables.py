"""The tables of a site: what is shown, what is filled in, what makes a row the same row, and how one ends."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteTable:
    """One kind of row.

    Args:
        noun: its model's name in small letters.
        title: its rows, in plain words.
        about: what they are for, in one sentence.
        group: under which heading the table stands.
        fields: what is filled in, in order; on the page and in the spreadsheet.
        key: the fields that make a row of a spreadsheet the same row as one on file.
        shown: the fields of the list; empty: all of `fields`.
        within: the field that leads to the row that it belongs to, on whose page it is listed too.
        ends: the field that ends a row: `active` is set to no, a day is set; empty: the row is removed.
        breaks: the rows have breaks of a shift, filled in as `2:30+15 5:00+30`.

    """

    noun: str
    title: str | Promise
    about: str | Promise
    group: str
    fields: tuple[str, ...]
    key: tuple[str, ...]
    shown: tuple[str, ...] = ()
    within: str = ""
    ends: str = ""
    breaks: bool = False

    @property
    def columns(self) -> tuple[str, ...]:
        """The fields of the list."""
        return self.shown or self.fields


GROUPS: Mapping[str, str | Promise] = {
    "people": _("People and hours"),
    "bay": _("Places and heater sets"),
    "work": _("Routes and limits"),
    "cure": _("Materials and cure charts"),
    "fleet": _("Machines"),
}

_CODED = ("code", "name")
_NAMED = ("code",)

# In the order in which a blank site is filled: a later table may name rows of an earlier one.
_TABLES = (
    SiteTable(
        noun="skill", title=_("Skills"), group="people", fields=_CODED, key=_NAMED,
        about=_("What people can do, in the site's own words; stages and the watch ask for one."),
    ),
    SiteTable(
        noun="sitemembership", title=_("Users and roles"), group="people", fields=("user", "role"),
        key=("user",), about=_("Who signs in, and as what. What a role may do is the same on every site."),
    ),
    SiteTable(
        noun="technician", title=_("Technicians"), group="people", key=_NAMED, ends="active",
        fields=(*_CODED, "grade", "skills", "user", "active"),
        about=_("Who works in the bay, with their skills; a user where they sign in themselves."),
    ),
    SiteTable(
        noun="rosterpattern", title=_("Roster patterns"), group="people", ends="last_day", breaks=True,
        fields=("technician", "recurrence", "starts_at", "ends_at", "first_day", "last_day"),
        key=("technician", "recurrence", "first_day", "starts_at"), within="technician",
        about=_("Shifts that repeat, as a recurrence rule of RFC 5545, with their breaks."),
    ),
    SiteTable(
        noun="rosterexception", title=_("Roster exceptions"), group="people", within="technician",
        fields=("technician", "day", "starts_at", "ends_at", "reason"), key=("technician", "day"),
        about=_("Days on which somebody's pattern does not hold: other hours, or none for a day off."),
    ),
    SiteTable(
        noun="positionkind", title=_("Kinds of position"), group="bay", fields=_CODED, key=_NAMED,
        about=_("What a place can be used for; a stage asks for one kind."),
    ),
    SiteTable(
        noun="position", title=_("Positions"), group="bay", key=_NAMED, ends="active",
        fields=(*_CODED, "kinds", "largest_size", "active"),
        about=_("Places on the floor, each for one tyre at a time."),
    ),
    SiteTable(
        noun="heaterset", title=_("Heater sets"), group="bay", key=_NAMED, ends="active",
        fields=(*_CODED, "channels", "power_kw", "turnaround_minutes", "active"),
        about=_("Pads, bags and a frame that cure one tyre at a time."),
    ),
    SiteTable(
        noun="heatersetfit", title=_("What sets fit"), group="bay", within="heater_set",
        fields=("heater_set", "zone", "smallest_size", "largest_size"),
        key=("heater_set", "zone", "smallest_size", "largest_size"),
        about=_("The sizes and zones that a set fits, by its maker."),
    ),
    SiteTable(
        noun="heatersetpart", title=_("Parts of sets"), group="bay", within="heater_set",
        fields=("heater_set", "kind", "serial", "state", "inspection_due_on", "note"),
        key=("heater_set", "kind"),
        about=_("A set with a part out, or past its inspection, is out."),
    ),
    SiteTable(
        noun="closure", title=_("Closures"), group="bay",
        fields=("position", "heater_set", "starts_at", "ends_at", "reason"),
        key=("position", "heater_set", "starts_at"),
        about=_("When one position or one set can't be used."),
    ),
    SiteTable(
        noun="isolation", title=_("Isolations of the supply"), group="bay",
        fields=("starts_at", "ends_at", "reason"), key=("starts_at",),
        about=_("When the bay has no supply: nothing is energised then."),
    ),
    SiteTable(
        noun="sizeclass", title=_("Size classes"), group="work", key=_NAMED,
        fields=(*_CODED, "smallest_rim_inch", "largest_rim_inch"),
        about=_("Sizes by rim diameter, as the site groups them for routes and limits."),
    ),
    SiteTable(
        noun="route", title=_("Routes"), group="work", key=_NAMED, ends="active",
        fields=(*_CODED, "zone", "size_class", "active"),
        about=_("The way of one kind of repair through the bay."),
    ),
    SiteTable(
        noun="routestage", title=_("Stages of routes"), group="work", within="route",
        fields=(
            "route", "sequence", "name", "kind", "base_minutes", "minutes_per_unit", "unit", "largest_units",
            "crew", "skill", "pausable", "block", "place", "min_wait_after", "max_wait_after", "caution",
        ),
        shown=("route", "sequence", "name", "kind", "base_minutes", "crew", "skill", "place"),
        key=("route", "sequence"),
        about=_("The stages of a route in order, with their minutes; the caution is shown where it is done."),
    ),
    SiteTable(
        noun="damagelimit", title=_("Damage limits"), group="work", key=("zone", "size_class"),
        fields=(
            "zone", "size_class", "largest_length_mm", "largest_width_mm", "largest_depth_mm", "most_plies",
            "most_repairs", "source",
        ),
        about=_("The largest injury that may be repaired, and the document that states it."),
    ),
    SiteTable(
        noun="material", title=_("Materials"), group="cure", key=_NAMED,
        fields=(
            *_CODED, "unit", "least_stock", "storage", "reference_c", "t90_min", "scorch_min",
            "reversion_min", "reversion_c", "activation_energy_j_mol", "ten_degree_factor",
            "conductivity_w_mk", "density_kg_m3", "heat_capacity_j_kgk",
        ),
        shown=(*_CODED, "unit", "least_stock", "storage", "reference_c", "t90_min"),
        about=_("Repair materials with their makers' figures."),
    ),
    SiteTable(
        noun="curechartline", title=_("Cure charts"), group="cure", within="material",
        fields=("material", "set_kind", "thickness_mm", "timed_min", "source"),
        key=("material", "set_kind", "thickness_mm"),
        about=_("The maker's minutes, line by line. Tyrewright never shortens a chart."),
    ),
    SiteTable(
        noun="zonecure", title=_("Fills by zone"), group="cure", key=("zone",),
        fields=("zone", "material", "set_kind", "cushion", "casing"),
        about=_("What injuries of a zone are filled with, and which chart they are read on."),
    ),
    SiteTable(
        noun="curelimitrow", title=_("Limits of a cure"), group="cure",
        fields=("limit", "value", "place", "heater_set", "material", "source"),
        key=("limit", "heater_set", "material"),
        about=_("Limits that the site, a set or a material has of its own; else common practice holds."),
    ),
    SiteTable(
        noun="machine", title=_("Machines"), group="fleet", key=_NAMED, ends="active",
        fields=(*_CODED, "kind", "tyre_size", "priority", "hours_run", "active"),
        about=_("Machines on tyres; the priority is what a minute of standing weighs."),
    ),
    SiteTable(
        noun="machineposition", title=_("Tyre positions"), group="fleet", within="machine",
        fields=("machine", "sequence", "code", "name", "tyre_size"), key=("machine", "code"),
        about=_("Where on a machine a tyre sits."),
    ),
)  # fmt: skip
SITE_TABLES: Mapping[str, SiteTable] = {table.noun: table for table in _TABLES}

RULES_SHEET = "rules"
RULES = (
    "name", "time_zone", "language", "temperature_unit", "pressure_unit", "grid_minutes", "horizon_days",
    "cures_per_attendant", "watch_skill", "attendant_may_work", "watch_through_breaks", "watch_cool_down",
    "handover_allowed", "power_limit_kw", "channel_limit",
)  # fmt: skip
"""The site's own fields that its administrator changes."""
