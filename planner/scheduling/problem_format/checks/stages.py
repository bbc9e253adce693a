"""Stages: what each kind needs, waits that can be kept, a heat block in one piece."""

from itertools import pairwise

from planner.domain.work import StageKind
from planner.scheduling.faults import FaultList
from planner.scheduling.problem_format.checks.ids import ids_check
from planner.scheduling.shapes import Row


def stages_check(stages: list[Row], faults: FaultList) -> None:
    """Check the stages of one job."""
    ids_check(stages, "name", faults)
    for stage in stages:
        _kind_check(stage, faults)
        _waits_check(stage, faults)
    _block_check(stages, faults)


def _kind_check(stage: Row, faults: FaultList) -> None:
    if not stage.has("kind"):
        return
    if stage["kind"] is StageKind.HANDS_ON:
        if stage.has("crew") and not stage["crew"]:
            faults.add(stage.at("crew"), "a hands-on stage needs a crew of at least 1")
        if stage.has("skill") and stage["skill"] is None:
            faults.add(stage.at("skill"), "a hands-on stage needs a skill")
        return
    for name in ("crew", "skill", "pausable"):
        if stage.get(name):
            faults.add(stage.at(name), f"belongs to hands-on stages only, this one is {stage['kind']}")


def _waits_check(stage: Row, faults: FaultList) -> None:
    least, most = stage.get("min_wait_after"), stage.get("max_wait_after")
    if least is not None and most is not None and least > most:
        faults.add(stage.at("min_wait_after"), f"must not be more than max_wait_after ({least} > {most} min)")


def _block_check(stages: list[Row], faults: FaultList) -> None:
    ended = False
    for one, two in pairwise(stages):
        ended = ended or bool(one.get("block") and not two.get("block"))
        if ended and two.get("block"):
            faults.add(two.at("block"), "the stages of the heat block must follow one another")
        if one.get("block") and two.get("block") and one.get("min_wait_after"):
            faults.add(
                one.at("min_wait_after"), "must be 0 inside the heat block, which is never interrupted"
            )
