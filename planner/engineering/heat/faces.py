"""What the two faces of the slab meet, stage by stage: pads that heat, hold or are off, bags, air."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.heat.tridiagonal import FloatArray
from planner.engineering.limits import Limits

TEMPERATURE = Limits(-60.0, 250.0, "°C")
DURATION = Limits(0.0, 100_000.0, "min")


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """What one face meets during a stage.

    Args:
        start_c: temperature of pad or air when the stage starts [°C].
        end_c: temperature when it ends, reached in a straight line [°C].
        resistance_m2k_w: between that temperature and the rubber: 0 for perfect contact, 1/h in air,
            infinite for an insulated face [m2K/W].

    """

    start_c: float
    end_c: float
    resistance_m2k_w: float = 0.0

    def __post_init__(self) -> None:
        TEMPERATURE.check("temperature at a face", self.start_c)
        TEMPERATURE.check("temperature at a face", self.end_c)
        if not self.resistance_m2k_w >= 0:
            raise InvalidValueError(_("the resistance at a face must not be negative"))


def pressed(temperature_c: float) -> Face:
    """A pad in perfect contact at one temperature [°C]."""
    return Face(start_c=temperature_c, end_c=temperature_c)


def in_air(temperature_c: float, coefficient_w_m2k: float) -> Face:
    """Air at one temperature [°C] that takes heat by convection, h [W/m2K]."""
    if not coefficient_w_m2k > 0:
        raise InvalidValueError(_("a convection coefficient must be more than 0 W/m2K"))
    return Face(start_c=temperature_c, end_c=temperature_c, resistance_m2k_w=1 / coefficient_w_m2k)


INSULATED = Face(start_c=0.0, end_c=0.0, resistance_m2k_w=math.inf)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """A stretch of time in which both faces change in straight lines; jumps stand between stages [min]."""

    minutes: float
    inside: Face
    outside: Face

    def __post_init__(self) -> None:
        DURATION.check("minutes of a stage", self.minutes)


@dataclass(frozen=True, slots=True, kw_only=True)
class StageBatch:
    """One stage of many repairs, each of its own length; the last axis of a face is (inside, outside)."""

    seconds: FloatArray
    start_c: FloatArray
    end_c: FloatArray
    resistance_m2k_w: FloatArray

    @property
    def longest_min(self) -> float:
        """The longest of the batch [min]."""
        return float(self.seconds.max()) / 60


def stage_batch(stages: Sequence[Stage]) -> StageBatch:
    """The same stage of several repairs side by side."""
    pairs = [(stage.inside, stage.outside) for stage in stages]
    return StageBatch(
        seconds=np.array([stage.minutes * 60 for stage in stages]),
        start_c=np.array([[face.start_c for face in pair] for pair in pairs]),
        end_c=np.array([[face.end_c for face in pair] for pair in pairs]),
        resistance_m2k_w=np.array([[face.resistance_m2k_w for face in pair] for pair in pairs]),
    )
