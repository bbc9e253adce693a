"""An invented repair stock with the chart of its invented maker, for any site of the tests."""

from typing import Any

from tests.lib.mine import Mine

STOCK: dict[str, Any] = {
    "code": "fill", "name": "Fill stock", "reference_c": 140, "t90_min": 20, "scorch_min": 5,
    "reversion_min": 2000, "ten_degree_factor": 2, "conductivity_w_mk": 0.25, "density_kg_m3": 1100,
    "heat_capacity_j_kgk": 1800,
}  # fmt: skip
LINES = ((20, 90), (40, 190), (60, 330))


def charted(mine: Mine) -> Any:
    """The mine's stock, its chart for sidewalls, and sidewalls filled with it."""
    material = mine.add("material", **STOCK)
    for thickness, minutes in LINES:
        mine.add(
            "curechartline",
            material=material,
            set_kind="side set",
            thickness_mm=thickness,
            timed_min=minutes,
            source="maker's sheet",
        )
    mine.add("zonecure", zone="sidewall", material=material, set_kind="side set")
    return material
