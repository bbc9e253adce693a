"""The rules of the bay, a file for each; the stems name them everywhere."""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from planner.domain.breach import Breach
from planner.scheduling.verify.rules.after import after_check
from planner.scheduling.verify.rules.attendant import attendant_check
from planner.scheduling.verify.rules.attendant_load import attendant_load_check
from planner.scheduling.verify.rules.attendant_work import attendant_work_check
from planner.scheduling.verify.rules.block import block_check
from planner.scheduling.verify.rules.breaks import breaks_check
from planner.scheduling.verify.rules.channels import channels_check
from planner.scheduling.verify.rules.closures import closures_check
from planner.scheduling.verify.rules.crew import crew_check
from planner.scheduling.verify.rules.grid import grid_check
from planner.scheduling.verify.rules.handover import handover_check
from planner.scheduling.verify.rules.heater_set import heater_set_check
from planner.scheduling.verify.rules.horizon import horizon_check
from planner.scheduling.verify.rules.length import length_check
from planner.scheduling.verify.rules.locked import locked_check
from planner.scheduling.verify.rules.one_stage import one_stage_check
from planner.scheduling.verify.rules.position import position_check
from planner.scheduling.verify.rules.power import power_check
from planner.scheduling.verify.rules.power_off import power_off_check
from planner.scheduling.verify.rules.release import release_check
from planner.scheduling.verify.rules.shift import shift_check
from planner.scheduling.verify.rules.stages import stages_check
from planner.scheduling.verify.rules.waits import waits_check
from planner.scheduling.verify.rules.watch import watch_check
from planner.scheduling.verify.view import PlanView

RULES: Mapping[str, Callable[[PlanView], Iterator[Breach]]] = MappingProxyType(
    {
        "stages": stages_check,
        "grid": grid_check,
        "length": length_check,
        "waits": waits_check,
        "block": block_check,
        "horizon": horizon_check,
        "release": release_check,
        "after": after_check,
        "crew": crew_check,
        "shift": shift_check,
        "breaks": breaks_check,
        "one_stage": one_stage_check,
        "heater_set": heater_set_check,
        "position": position_check,
        "closures": closures_check,
        "watch": watch_check,
        "attendant": attendant_check,
        "attendant_load": attendant_load_check,
        "attendant_work": attendant_work_check,
        "handover": handover_check,
        "power": power_check,
        "channels": channels_check,
        "power_off": power_off_check,
        "locked": locked_check,
    }
)
"""Every rule by its stem, in the order in which breaches are listed."""
