"""Looks follow from what a stage does in its job."""

from planner.web.timeline.appearance import stage_looks
from tests.lib import one_cure as bay


def test_each_part_of_the_heat_block_has_its_own_look() -> None:
    looks = stage_looks(bay.job())
    assert list(looks.values()) == ["hands-on", "wait", "rig", "heat-up", "cure", "cool-down", "strip"]


def test_a_single_energised_stage_is_the_cure() -> None:
    stages = tuple(stage for stage in bay.job().stages if stage.name in {"rig", "hold", "strip"})
    job = type(bay.job())(id="x", priority=1, released_at=0, needed_by=1, stages=stages)
    assert list(stage_looks(job).values()) == ["rig", "cure", "strip"]
