"""The spare cover of each tyre size: what there is, what comes, what will be asked for, when it runs out."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from django.utils import timezone

from planner.domain.permissions import Action
from planner.domain.states import PLANNABLE_WORK
from planner.engineering.spare_cover import Arrival, Floats, run_out_day, run_out_odds
from planner.models import Machine, Site, User
from planner.selectors.access import require_on_site
from planner.selectors.machines import FleetRow, fleet_list
from planner.selectors.removal_rates import RemovalRate, removal_rate_of, removal_rates_get
from planner.selectors.repairs_back import HoldingOdds, RepairBack, holding_odds_get, repair_back_list
from planner.selectors.spare_supply import SizeSupply, delivery_arrivals, size_supplies_get

DAYS_AHEAD = 60
EVEN, EARLY = 0.5, 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeCover:
    """One size: its machines, supply, repairs and demand, and the odds of having run out by each day.

    `uncounted` machines take it but nobody knows their hours; `standing` are the keys of those with an empty
    position.
    """

    size: str
    today: date
    machines: tuple[Machine, ...]
    positions: int
    supply: SizeSupply
    repairs: tuple[RepairBack, ...]
    holding: HoldingOdds
    rate: RemovalRate
    demand_a_day: float | None
    uncounted: int = 0
    standing: frozenset[int] = frozenset()
    without: Floats | None = field(default=None, repr=False)
    likely: Floats | None = field(default=None, repr=False)
    surely: Floats | None = field(default=None, repr=False)

    @property
    def weight(self) -> int:
        """The greatest weight among its machines; 10, as for work without a machine, where there is none."""
        return max((machine.priority for machine in self.machines), default=10)

    @property
    def asked_for(self) -> float | None:
        """Tyres expected to come off in the days looked at."""
        return None if self.demand_a_day is None else self.demand_a_day * DAYS_AHEAD

    @property
    def early_on(self) -> date | None:
        """The day by which the odds of having run out reach one in ten, repairs at their surer times."""
        return self._day(self.surely, EARLY)

    @property
    def even_on(self) -> date | None:
        """The day by which having run out is as likely as not, repairs at their surer times."""
        return self._day(self.surely, EVEN)

    @property
    def without_on(self) -> date | None:
        """The day by which it is as likely as not where no repair came back at all."""
        return self._day(self.without, EVEN)

    @property
    def odds_at_end(self) -> float | None:
        """The odds of having run out by the end of the days looked at [1]."""
        return None if self.surely is None else float(self.surely[-1])

    def _day(self, odds: Floats | None, level: float) -> date | None:
        day = None if odds is None else run_out_day(odds, level)
        return None if day is None else self.today + timedelta(days=day - 1)


def spare_cover_list(
    *, user: User, site: Site, now: datetime | None = None, sizes: Collection[str] | None = None
) -> list[SizeCover]:
    """The cover of every size that machines take, or of these sizes; what runs out first comes first."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    at = now or timezone.now()
    zone = ZoneInfo(site.time_zone)
    today = at.astimezone(zone).date()
    fleet = fleet_list(user=user, site=site, now=at)
    rates, holding = removal_rates_get(site=site), holding_odds_get(site=site)
    repairs, supplies = repair_back_list(user=user, site=site), size_supplies_get(site=site, fleet=fleet)
    wanted = sizes if sizes is not None else _sizes(fleet) | repairs.keys()
    covers = [
        _cover(
            size, today, zone, fleet, supplies.get(size, SizeSupply()), repairs.get(size, []), holding,
            removal_rate_of(rates, size),
        )
        for size in wanted
    ]  # fmt: skip
    return sorted(covers, key=_urgency)


def _urgency(cover: SizeCover) -> tuple[date, date, int, str]:
    never = date.max
    return cover.early_on or never, cover.even_on or never, -cover.weight, cover.size


def _cover(
    size: str,
    today: date,
    zone: ZoneInfo,
    fleet: Sequence[FleetRow],
    supply: SizeSupply,
    repairs: Sequence[RepairBack],
    holding: HoldingOdds,
    rate: RemovalRate,
) -> SizeCover:
    takers = [row for row in fleet if any(seat.position.size == size for seat in row.seats)]
    demand, uncounted = _demand(size, takers, rate)
    known = {} if demand is None else _odds(supply, repairs, holding, demand, today, zone)
    return SizeCover(
        size=size,
        today=today,
        machines=tuple(row.machine for row in takers),
        positions=sum(seat.position.size == size for row in takers for seat in row.seats),
        supply=supply,
        repairs=tuple(repairs),
        holding=holding,
        rate=rate,
        demand_a_day=demand,
        uncounted=uncounted,
        standing=frozenset(
            row.machine.pk for row in takers if any(seat.position.size == size for seat in row.empty)
        ),
        **known,
    )


def _demand(size: str, takers: Sequence[FleetRow], rate: RemovalRate) -> tuple[float | None, int]:
    """Tyres that come off in a day, and how many machines are not in it because nobody knows their hours."""
    if rate.hours is None or not takers:
        return None, 0
    known = [row for row in takers if row.running.hours_a_day is not None]
    hours = sum(
        (row.running.hours_a_day or 0.0) * sum(seat.position.size == size for seat in row.seats)
        for row in known
    )
    return hours / rate.hours, len(takers) - len(known)


def _odds(
    supply: SizeSupply,
    repairs: Sequence[RepairBack],
    holding: HoldingOdds,
    demand: float,
    today: date,
    zone: ZoneInfo,
) -> dict[str, Floats]:
    ordered = delivery_arrivals(supply, today)

    def run(back: Sequence[datetime | None]) -> Floats:
        arrivals = [
            *ordered,
            *(_arrival(at.astimezone(zone).date(), today, holding.odds) for at in back if at),
        ]
        within = [each for each in arrivals if each.day <= DAYS_AHEAD]
        return run_out_odds(spares=supply.spares, demand_a_day=demand, arrivals=within, days=DAYS_AHEAD)

    counted = [back for back in repairs if back.order.state in PLANNABLE_WORK]
    return {
        "without": run([]),
        "likely": run([back.likely_at for back in counted]),
        "surely": run([back.surely_at for back in counted]),
    }


def _arrival(ready_on: date, today: date, odds: float) -> Arrival:
    """A repair is counted on from the day after it is ready."""
    return Arrival(day=max((ready_on - today).days + 2, 1), odds=odds)


def _sizes(fleet: Sequence[FleetRow]) -> set[str]:
    return {seat.position.size for row in fleet for seat in row.seats if seat.position.size}
