"""Lateness as a time for each tyre: the planner's own figure is a sum over tyres and weights."""

from dataclasses import dataclass

from planner.domain.durations import hours_minutes
from planner.selectors.nouns import PlanBuild


@dataclass(frozen=True, slots=True, kw_only=True)
class AverageLate:
    """How late a tyre is on average, weighed by priority, and below which no plan can get; empty: unknown."""

    now: str = ""
    least: str = ""


def average_of(build: PlanBuild) -> AverageLate:
    """The build's lateness and bound over the weight of all its tyres."""
    if not build.weight or build.lateness is None:
        return AverageLate()
    return AverageLate(
        now=hours_minutes(round(build.lateness / build.weight)),
        least=hours_minutes(build.bound // build.weight),
    )
