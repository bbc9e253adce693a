"""The demo's technicians and their roster for two weeks ahead."""

from datetime import time, timedelta

from planner.models import Skill, Technician
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import table_of_site, table_read
from planner.services.rosters import shifts_make

_DAYS_BACK, _DAYS_AHEAD = 2, 15
_STARTS_AT, _ENDS_AT = time(6), time(17)
_BREAKS = ((150, 15), (300, 30), (480, 15))


def people_load(scene: Scene) -> None:
    """Skills, technicians, patterns with staggered breaks, one day off, and the shifts."""
    for row in table_read("skills"):
        scene.add("skill", **row)
    for row in table_of_site("technicians", scene.site.code):
        technician = scene.add(
            "technician",
            code=row["code"],
            name=row["name"],
            grade=row["grade"],
            user=scene.users.get(row["user"]),
            skills=list(Skill.objects.filter(site=scene.site, code__in=row["skills"].split())),
        )
        _roster(scene, technician, row["days"].split(), int(row["break_shift"]))
    off = Technician.objects.filter(site=scene.site, code="T3").first()
    if off is not None:
        scene.add(
            "rosterexception", technician=off, day=scene.today + timedelta(days=3), reason="first-aid course"
        )
    first, last = scene.today - timedelta(days=_DAYS_BACK), scene.today + timedelta(days=_DAYS_AHEAD)
    shifts_make(user=scene.administrator, site=scene.site, first_day=first, last_day=last, why="demo site")


def _roster(scene: Scene, technician: object, days: list[str], break_shift: int) -> None:
    pattern = scene.add(
        "rosterpattern",
        technician=technician,
        recurrence=f"FREQ=WEEKLY;BYDAY={','.join(days)}",
        first_day=scene.today - timedelta(days=28),
        starts_at=_STARTS_AT,
        ends_at=_ENDS_AT,
    )
    for after, minutes in _BREAKS:
        scene.add("patternbreak", pattern=pattern, after_minutes=after + break_shift, minutes=minutes)
