"""A small bay, invented, as a workbook: filled in once from end to end, to be overwritten with one's own."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

_PARTS = ("inside_pad", "outside_pad", "inside_bag", "outside_bag", "frame")
_PEOPLE = {"T1": "First technician", "T2": "Second technician"}


def example_rows(today: date) -> Mapping[str, tuple[Mapping[str, Any], ...]]:
    """The rows of each table by its noun, each cell by its field; the roster begins with this week's Monday.

    A sidewall repair in six stages, from skiving to the stripped set. All minutes are invented: the repair
    material's maker states those of the cure.
    """
    monday = today - timedelta(days=today.weekday())
    return {
        "skill": (
            {"code": "prep", "name": "Preparation"},
            {"code": "cure", "name": "Rigging and cure attendance"},
        ),
        "sitemembership": (
            {"user": "example-lead", "role": "supervisor", "first_name": "Example", "last_name": "Lead"},
        ),
        "technician": tuple(
            {"code": code, "name": name, "skills": "prep cure"} for code, name in _PEOPLE.items()
        ),
        "rosterpattern": tuple(
            {
                "technician": code, "recurrence": "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR", "starts_at": "06:00",
                "ends_at": "17:00", "first_day": monday, "breaks": "5:30+30",
            }
            for code in _PEOPLE
        ),
        "positionkind": (
            {"code": "prep", "name": "Preparation bay"},
            {"code": "cure", "name": "Cure bay"},
        ),
        "position": (
            {"code": "P1", "name": "Preparation 1", "kinds": "prep"},
            {"code": "C1", "name": "Cure 1", "kinds": "cure"},
        ),
        "heaterset": (
            {"code": "H1", "name": "Set 1", "channels": 2, "power_kw": 6, "turnaround_minutes": 15},
        ),
        "heatersetfit": (
            {"heater_set": "H1", "zone": "sidewall", "smallest_size": "17.5-25", "largest_size": "29.5-29"},
        ),
        "heatersetpart": tuple({"heater_set": "H1", "kind": kind} for kind in _PARTS),
        "route": ({"code": "side", "name": "Sidewall repair", "zone": "sidewall"},),
        "routestage": tuple(
            {"route": "side", "sequence": sequence, **stage}
            for sequence, stage in enumerate(_STAGES, start=1)
        ),
    }  # fmt: skip


_HANDS = {"kind": "hands_on", "crew": 1}
_BLOCK = {"block": "yes", "place": "cure"}
_STAGES: tuple[Mapping[str, Any], ...] = (
    {"name": "Skive and buff", "base_minutes": 90, "skill": "prep", "pausable": "yes", "place": "prep",
     **_HANDS},
    {"name": "Cement and fill", "base_minutes": 60, "skill": "prep", "place": "prep", **_HANDS,
     "caution": "Solvent burns: no flame and no hot pad near, air moving, gloves on."},
    {"name": "Rig the set", "base_minutes": 40, "skill": "cure", **_HANDS, **_BLOCK},
    {"name": "Cure", "kind": "energised", "base_minutes": 60, "minutes_per_unit": 2, "unit": "depth_mm",
     "largest_units": 60, **_BLOCK},
    {"name": "Cool under pressure", "kind": "pressurised", "base_minutes": 30, **_BLOCK},
    {"name": "Strip the set", "base_minutes": 30, "skill": "cure", **_HANDS, **_BLOCK,
     "caution": "Bags at zero by their gauge before a pin is drawn."},
)  # fmt: skip
