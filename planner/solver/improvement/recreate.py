"""In which order jobs go back on the board."""

from collections.abc import Callable, Iterable
from random import Random

from planner.scheduling.dispatch.bay import Bay, BayJob
from planner.scheduling.dispatch.orders import (
    by_loss,
    by_need,
    by_priority,
    by_release,
    by_slack,
    in_sequence,
)

Rank = Callable[[BayJob], tuple[float, ...]]
RANKS: tuple[Rank, ...] = (by_loss, by_need, by_priority, by_slack, by_release)


def order_of(bay: Bay, jobs: Iterable[int], random: Random) -> list[BayJob]:
    """The jobs in an order drawn at random: of a priority rule with some noise, or of nothing."""
    waiting = [bay.jobs[number] for number in jobs]
    draw = random.random()
    if draw < 0.4:
        random.shuffle(waiting)
    else:
        waiting.sort(key=random.choice(RANKS))
        if draw < 0.8:
            _swap_some(waiting, random)
    numbers = {job.number for job in waiting}
    return [job for job in in_sequence(bay, waiting) if job.number in numbers]


def _swap_some(order: list[BayJob], random: Random) -> None:
    """Swap neighbours here and there."""
    for place in range(len(order) - 1):
        if random.random() < 0.3:
            order[place], order[place + 1] = order[place + 1], order[place]
