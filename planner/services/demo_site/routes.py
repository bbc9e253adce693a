"""The demo's size classes, routes and damage limits."""

from decimal import Decimal

from planner.models import PositionKind, SizeClass, Skill
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import Row, table_read, whole


def routes_load(scene: Scene) -> None:
    """One route for each zone and class, the stages of a class alike in every zone."""
    for row in table_read("size_classes"):
        rims = {name: Decimal(row[name]) for name in ("smallest_rim_inch", "largest_rim_inch")}
        scene.add("sizeclass", code=row["code"], name=row["name"], **rims)
    classes = {row.code: row for row in SizeClass.objects.filter(site=scene.site)}
    stages = table_read("route_stages")
    for row in table_read("routes"):
        size_class = classes[row["size_class"]]
        route = scene.add(
            "route", code=row["code"], name=row["name"], zone=row["zone"], size_class=size_class
        )
        for stage in stages:
            if stage["size_class"] == row["size_class"]:
                scene.add("routestage", route=route, **_stage(scene, stage))
    for row in table_read("damage_limits"):
        sizes = ("largest_length_mm", "largest_width_mm", "largest_depth_mm", "most_plies")
        limits = {name: whole(row[name]) for name in sizes}
        size_class = classes[row["size_class"]]
        scene.add("damagelimit", zone=row["zone"], size_class=size_class, source=row["source"], **limits)


def _stage(scene: Scene, row: Row) -> dict[str, object]:
    return {
        **{name: row[name] for name in ("name", "kind", "unit", "caution")},
        **{name: int(row[name]) for name in ("sequence", "base_minutes", "crew", "min_wait_after")},
        **{name: whole(row[name]) for name in ("largest_units", "max_wait_after")},
        **{name: row[name] == "1" for name in ("pausable", "block")},
        "minutes_per_unit": Decimal(row["minutes_per_unit"]),
        "skill": Skill.objects.filter(site=scene.site, code=row["skill"]).first(),
        "place": PositionKind.objects.filter(site=scene.site, code=row["place"]).first(),
    }
