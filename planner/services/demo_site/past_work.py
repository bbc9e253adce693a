"""How the stages of a past repair of the demo fell: hands-on work by day, a heat block within one day."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random

from planner.domain.work import Stage, StageKind

DAY_STARTS_AT, DAY_ENDS_AT = timedelta(hours=6), timedelta(hours=17)
# What the crew stays on for rather than leave a stage half done.
_STAYS_ON = timedelta(minutes=80)


@dataclass(frozen=True, slots=True, kw_only=True)
class PastStage:
    """A stage with when it was done; `place` is its place in the route, counted from 1."""

    place: int
    stage: Stage
    start: datetime
    end: datetime


def past_stages(
    stages: Sequence[Stage], midnight: datetime, pace_percent: int, random: Random
) -> Iterator[PastStage]:
    """Each stage after the one before, from the day that begins at `midnight` on; seeded chance in each."""
    at = midnight + DAY_STARTS_AT + timedelta(minutes=random.randrange(10, 90))
    minutes = [_taken(stage, pace_percent, random) for stage in stages]
    for place, stage in enumerate(stages):
        begins_block = stage.block and not (place and stages[place - 1].block)
        blocked = zip(stages[place:], minutes[place:], strict=True)
        together = sum((taken for each, taken in blocked if each.block), timedelta())
        needed = together if begins_block else minutes[place]
        if stage.kind is StageKind.HANDS_ON and (begins_block or not stage.block):
            at = _fitting(at, needed)
        end = at + minutes[place]
        yield PastStage(place=place + 1, stage=stage, start=at, end=end)
        at = end + timedelta(minutes=stage.min_wait_after)


def _taken(stage: Stage, pace_percent: int, random: Random) -> timedelta:
    """Work scatters widely, heat hardly at all."""
    if stage.kind is StageKind.HANDS_ON:
        pace = pace_percent / 100 * random.lognormvariate(0, 0.12)
    else:
        pace = random.uniform(1, 1.05) if stage.kind is StageKind.ENERGISED else 1
    return timedelta(minutes=max(round(stage.minutes * pace), 1))


def _fitting(at: datetime, needed: timedelta) -> datetime:
    """Today where it still fits, else the next morning."""
    midnight = at.replace(hour=0, minute=0)
    if at + needed <= midnight + DAY_ENDS_AT + _STAYS_ON:
        return max(at, midnight + DAY_STARTS_AT)
    return midnight + timedelta(days=1) + DAY_STARTS_AT + timedelta(minutes=10)
