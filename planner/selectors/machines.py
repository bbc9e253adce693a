"""Reading the fleet: machines, the tyre on each position, and how many hours a day they run."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import QuerySet

from planner.costing.assumptions import Assumption
from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import OPEN_WORK, TyreState
from planner.models import (
    Machine,
    MachinePosition,
    MachineReading,
    Site,
    Tyre,
    TyreFitting,
    User,
    WorkOrder,
)
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import assumed_get, site_day

READINGS_SINCE = timedelta(days=60)
ENOUGH_DAYS = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningHours:
    """Hours a day that a machine runs [h]; None where neither its meter nor the site's assumption says."""

    hours_a_day: float | None
    is_measured: bool
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatedTyre:
    """A position with the tyre on it, and the hours that it has run there [h]."""

    position: MachinePosition
    tyre: Tyre | None
    fitting: TyreFitting | None

    @property
    def hours_here(self) -> int | None:
        """Since it was fitted [h]."""
        return None if self.fitting is None else self.fitting.machine.hours_run - self.fitting.fitted_hours


@dataclass(frozen=True, slots=True, kw_only=True)
class FleetRow:
    """A machine with its positions, what it runs, and its tyres that are in for repair."""

    machine: Machine
    seats: tuple[SeatedTyre, ...]
    running: RunningHours
    orders: tuple[WorkOrder, ...]

    @property
    def empty(self) -> tuple[SeatedTyre, ...]:
        """Positions without a tyre: the machine stands."""
        return tuple(seat for seat in self.seats if seat.tyre is None)


def machine_get(*, user: User, site: Site, code: str) -> Machine:
    """One machine; NotFoundError where there is none with this code."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    row = Machine.objects.filter(site=site, code=code).select_related("site").first()
    if row is None:
        raise NotFoundError(_("there is no machine {code} on {site}", code=code, site=site))
    return row


def fleet_list(*, user: User, site: Site, now: datetime, machine: Machine | None = None) -> list[FleetRow]:
    """Every machine in use, by code, or the one: its positions, tyres, hours a day and open orders."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    rows = Machine.objects.filter(site=site, active=True)
    machines = [machine] if machine else list(rows)
    seats, orders = _seats(machines), _orders(machines)
    running = running_hours_get(site=site, machines=machines, now=now)
    return [
        FleetRow(
            machine=each,
            seats=tuple(seats.get(each.pk, ())),
            running=running[each.pk],
            orders=tuple(orders.get(each.pk, ())),
        )
        for each in machines
    ]


def fitting_list(*, user: User, machine: Machine) -> QuerySet[TyreFitting]:
    """Tyres that came off the machine, the last first."""
    require_on_site(user=user, site=machine.site, action=Action.SITE_READ)
    rows = TyreFitting.objects.filter(machine=machine, removed_at__isnull=False)
    return rows.select_related("tyre").order_by("-removed_at", "-pk")


def reading_list(*, user: User, machine: Machine) -> QuerySet[MachineReading]:
    """The machine's meter readings, the newest first."""
    require_on_site(user=user, site=machine.site, action=Action.SITE_READ)
    return MachineReading.objects.filter(machine=machine).order_by("-read_at")


def spare_tyre_list(*, user: User, site: Site) -> QuerySet[Tyre]:
    """Tyres that are off their machines and have no open order: what could be fitted, by serial."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    in_repair = WorkOrder.objects.filter(site=site, state__in=OPEN_WORK).values("tyre")
    return Tyre.objects.filter(site=site, state=TyreState.OFF_MACHINE).exclude(pk__in=in_repair)


def running_hours_get(
    *, site: Site, machines: Iterable[Machine], now: datetime
) -> Mapping[int, RunningHours]:
    """Hours a day of each machine by its own meter, else by the site's accepted assumption.

    The meter counts where a week or more lies between two readings of the last 60 days.
    """
    assumed = _assumed(site)
    readings: dict[int, list[MachineReading]] = {}
    since = now - READINGS_SINCE
    for reading in MachineReading.objects.filter(site=site, read_at__gte=since).order_by("read_at"):
        readings.setdefault(reading.machine_id, []).append(reading)
    return {each.pk: _measured(readings.get(each.pk, [])) or assumed for each in machines}


def _measured(readings: list[MachineReading]) -> RunningHours | None:
    if len(readings) < 2:
        return None
    days = (readings[-1].read_at - readings[0].read_at).total_seconds() / 86400
    if days < ENOUGH_DAYS:
        return None
    run = readings[-1].hours - readings[0].hours
    source = _("its meter: {run} h in {days:.0f} days", run=run, days=days)
    return RunningHours(hours_a_day=run / days, is_measured=True, source=source)


def _assumed(site: Site) -> RunningHours:
    values = assumed_get(site=site, day=site_day(site)).values
    hours = values.get(Assumption.HOURS_A_YEAR)
    if hours is None:
        return RunningHours(hours_a_day=None, is_measured=False, source="neither readings nor an assumption")
    source = _("assumed: {hours:.0f} running hours a year", hours=hours)
    return RunningHours(hours_a_day=float(hours) / 365, is_measured=False, source=source)


def _seats(machines: list[Machine]) -> dict[int, list[SeatedTyre]]:
    keys = [each.pk for each in machines]
    sits = Tyre.objects.filter(machine__in=keys, state=TyreState.FITTED)
    tyres = {(tyre.machine_id, tyre.machine_position): tyre for tyre in sits}
    open_rows = TyreFitting.objects.filter(machine__in=keys, removed_at__isnull=True)
    fittings = {row.tyre_id: row for row in open_rows.select_related("machine")}
    found: dict[int, list[SeatedTyre]] = {}
    for position in MachinePosition.objects.filter(machine__in=keys).select_related("machine"):
        tyre = tyres.get((position.machine_id, position.code))
        seat = SeatedTyre(position=position, tyre=tyre, fitting=fittings.get(tyre.pk) if tyre else None)
        found.setdefault(position.machine_id, []).append(seat)
    return found


def _orders(machines: list[Machine]) -> dict[int, list[WorkOrder]]:
    rows = WorkOrder.objects.filter(machine__in=[each.pk for each in machines], state__in=OPEN_WORK)
    found: dict[int, list[WorkOrder]] = {}
    for order in rows.select_related("tyre").order_by("needed_by", "number"):
        if order.machine_id is not None:
            found.setdefault(order.machine_id, []).append(order)
    return found
