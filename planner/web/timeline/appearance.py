"""What each stage looks like: the part that it plays in its job, never its name, which the site chooses."""

from enum import StrEnum

from planner.domain.work import Job, Stage, StageKind


class Look(StrEnum):
    """The fills of the timeline: a colour and a hatch each, so that grey paper tells them apart."""

    RIG = "rig"
    HEAT_UP = "heat-up"
    CURE = "cure"
    COOL_DOWN = "cool-down"
    STRIP = "strip"
    HANDS_ON = "hands-on"
    WAIT = "wait"
    WATCH = "watch"


def stage_looks(job: Job) -> dict[str, Look]:
    """The look of every stage of the job, by its name."""
    energised = [index for index, stage in enumerate(job.stages) if stage.kind is StageKind.ENERGISED]
    return {stage.name: _look(stage, index, energised) for index, stage in enumerate(job.stages)}


def _look(stage: Stage, index: int, energised: list[int]) -> Look:
    """Energised stages before the last heat up; hands-on work of the block rigs before and strips after."""
    match stage.kind:
        case StageKind.WAIT:
            return Look.WAIT
        case StageKind.PRESSURISED:
            return Look.COOL_DOWN
        case StageKind.ENERGISED:
            return Look.CURE if index == energised[-1] else Look.HEAT_UP
        case StageKind.HANDS_ON if not stage.block:
            return Look.HANDS_ON
    return Look.RIG if not energised or index < energised[0] else Look.STRIP
