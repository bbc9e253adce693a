"""How the minutes of a stage scatter about what was planned."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.domain.work import Stage, StageKind

NORMAL_P90 = 1.2815515655446004
"""The 90th percentile of the standard normal distribution [1] (any table of it)."""

LONGEST_FACTOR = 4.0
"""A drawn stage never takes more than this many times its median [1] (the site's assumption)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """A log-normal factor on the planned minutes, by its median and its 90th percentile [1].

    A `p90` equal to the median is a stage that takes exactly what it takes, such as a timed cure.
    """

    median: float = 1.0
    p90: float = 1.0

    def __post_init__(self) -> None:
        if not 0 < self.median <= self.p90:
            raise InvalidValueError(_("a spread needs a median above 0 and a p90 no smaller than it"))

    def factor(self, normal: float) -> float:
        """The factor for one standard normal draw [1]."""
        ratio: float = (self.p90 / self.median) ** (normal / NORMAL_P90)
        return self.median * min(ratio, LONGEST_FACTOR)


ASSUMED: Mapping[StageKind, Spread] = {
    StageKind.HANDS_ON: Spread(median=1.0, p90=1.35),
    StageKind.ENERGISED: Spread(median=1.0, p90=1.05),
    StageKind.PRESSURISED: Spread(median=1.0, p90=1.25),
    StageKind.WAIT: Spread(),
}
"""What is assumed of a stage while the site has no records of its own: an assumption, not a measurement."""

Spreads = Mapping[tuple[str, str], Spread]


def spread_of(spreads: Spreads, job: str, stage: Stage) -> Spread:
    """The spread given for this job's stage, else the assumed one of its kind."""
    return spreads.get((job, stage.name), ASSUMED[stage.kind])
