"""When a damaged tyre is needed, as far as the machines and the spare cover say."""

from dataclasses import dataclass
from datetime import date, timedelta

from planner.models import Machine, Site, User
from planner.selectors.spare_cover import DAYS_AHEAD, SizeCover, spare_cover_list
from planner.selectors.spare_priorities import next_tyre_wanted_on


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """The day on which one more tyre of the size is wanted, at odds of one in ten; `cover` says why.

    `is_standing`: the machine has an empty position of the size now. `is_beyond`: not within these days.
    """

    day: date
    cover: SizeCover
    is_standing: bool = False
    is_beyond: bool = False


def need_get(*, user: User, site: Site, size: str, machine: Machine | None) -> Need | None:
    """What the machines say of one more tyre of the size; None where its demand is not known."""
    (cover,) = spare_cover_list(user=user, site=site, sizes=[size])
    if cover.demand_a_day is None:
        return None
    stands = machine is not None and cover.supply.spares < 0 and machine.pk in cover.standing
    wanted = cover.today if stands else next_tyre_wanted_on(cover)
    last = cover.today + timedelta(days=DAYS_AHEAD)
    return Need(day=wanted or last, cover=cover, is_standing=stands, is_beyond=wanted is None)
