"""What the spare cover says of each order's weight and date: a suggestion with its reason, never applied."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from planner.engineering.spare_cover import Floats, further_tyre_odds, run_out_day
from planner.models import Site, User, WorkOrder
from planner.selectors.spare_cover import (
    DAYS_AHEAD,
    EARLY,
    SizeCover,
    spare_cover_list,
)
from planner.selectors.spare_supply import delivery_arrivals

WITHIN_DAYS = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """The place of one order among the open ones of its size, and what follows from it.

    `odds` that this tyre is wanted within 30 days beyond what the store and deliveries give [1]; the
    suggested weight is the heaviest machine's, times these odds. `wanted_on` is the day by which the odds
    reach one in ten; None where they do not in these days.
    """

    order: WorkOrder
    place: int
    odds: float
    weight: int
    machine_weight: int
    wanted_on: date | None

    @property
    def differs(self) -> bool:
        """Whether it says something else than what stands."""
        return self.weight != self.order.priority


def suggestion_list(cover: SizeCover) -> list[Suggestion]:
    """One for each open order of the size, those first that come back first; none without a known demand."""
    if cover.demand_a_day is None:
        return []
    wanted = _wanted(cover, len(cover.repairs))
    return [
        Suggestion(
            order=back.order,
            place=place + 1,
            odds=float(odds[WITHIN_DAYS - 1]),
            weight=max(1, round(cover.weight * float(odds[WITHIN_DAYS - 1]))),
            machine_weight=cover.weight,
            wanted_on=_day(cover.today, run_out_day(odds, EARLY)),
        )
        for place, (back, odds) in enumerate(zip(cover.repairs, wanted, strict=True))
    ]


def suggestion_get(
    *, user: User, site: Site, order: WorkOrder, now: datetime | None = None
) -> Suggestion | None:
    """The suggestion for one open order; None where its size has no known demand."""
    covers = spare_cover_list(user=user, site=site, now=now, sizes=[order.tyre.size])
    found = (each for cover in covers for each in suggestion_list(cover))
    return next((each for each in found if each.order.pk == order.pk), None)


def next_tyre_wanted_on(cover: SizeCover) -> date | None:
    """By which day one more tyre of the size, beyond those in repair, is wanted at odds of one in ten."""
    if cover.demand_a_day is None:
        return None
    return _day(cover.today, run_out_day(_wanted(cover, len(cover.repairs) + 1)[-1], EARLY))


def _wanted(cover: SizeCover, further: int) -> Floats:
    arrivals = [each for each in delivery_arrivals(cover.supply, cover.today) if each.day <= DAYS_AHEAD]
    return further_tyre_odds(
        spares=cover.supply.spares, demand_a_day=cover.demand_a_day or 0.0, arrivals=arrivals,
        days=DAYS_AHEAD, further=further,
    )  # fmt: skip


def _day(today: date, day: int | None) -> date | None:
    return None if day is None else today + timedelta(days=day - 1)
