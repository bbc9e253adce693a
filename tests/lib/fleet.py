"""A small fleet for tests: machines with positions, tyres on them."""

from datetime import timedelta
from typing import Any

from django.utils import timezone

from planner.models import Machine, MachineReading, Tyre
from planner.services.machines import machine_tyre_fit
from planner.services.tyres import tyre_register
from tests.lib.mine import Mine

SIZE = "20.5R25"


def machine_add(mine: Mine, code: str, seats: int = 2, size: str = SIZE, **facts: Any) -> Machine:
    """A machine with so many positions, called 1, 2, ..."""
    machine = mine.add("machine", code=code, name=f"Loader {code}", kind="loader", tyre_size=size, **facts)
    for place in range(1, seats + 1):
        mine.add(
            "machineposition", machine=machine, code=str(place), name=f"Position {place}", sequence=place
        )
    assert isinstance(machine, Machine)
    return machine


def tyre_add(mine: Mine, serial: str, size: str = SIZE) -> Tyre:
    """A tyre in the store."""
    return tyre_register(user=mine.supervisor, site=mine.site, serial=serial, size_as_written=size)


def tyre_on(mine: Mine, machine: Machine, position: str, serial: str) -> Tyre:
    """A new tyre, fitted."""
    tyre_add(mine, serial, machine.tyre_size)
    return machine_tyre_fit(user=mine.supervisor, machine=machine, position=position, serial=serial)


def readings_add(mine: Mine, machine: Machine, hours_a_day: int) -> None:
    """Two readings, 20 days apart, of a machine whose meter says 1000 h now."""
    for days in (20, 0):
        MachineReading.objects.create(
            site=mine.site, machine=machine, read_at=timezone.now() - timedelta(days=days),
            hours=1000 - hours_a_day * days,
        )  # fmt: skip
