"""What is energised when, and what it draws."""

from collections.abc import Callable, Iterator

from planner.domain.bay_time import Span
from planner.domain.resources import HeaterSet
from planner.scheduling.verify.holdings import set_of
from planner.scheduling.verify.view import PlanView

Draw = tuple[Span, HeaterSet]


def draws_of(view: PlanView) -> list[Draw]:
    """Every energised stage of a heat block with its set, in order of start."""
    draws: list[Draw] = []
    for job in view.placed.values():
        heater_set = set_of(view, job)
        if heater_set is not None:
            draws.extend(
                (stage.span, heater_set) for stage in job.stages if stage.energised and stage.stage.block
            )
    return sorted(draws, key=lambda draw: draw[0])


def totals(draws: list[Draw], amount: Callable[[HeaterSet], float]) -> Iterator[tuple[int, float]]:
    """The total that is drawn at each start; between starts it can only fall."""
    live: list[Draw] = []
    for index, (span, heater_set) in enumerate(draws):
        live = [draw for draw in live if draw[0].end > span.start]
        if span.minutes:
            live.append((span, heater_set))
        last = index + 1 == len(draws) or draws[index + 1][0].start > span.start
        if last:
            yield span.start, sum(amount(drawing) for _, drawing in live)
