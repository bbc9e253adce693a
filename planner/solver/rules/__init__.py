"""One file for each rule of the bay that the solver states by itself; the rest is how the model is built.

A job's stages, their order, lengths and crews, the grid, the horizon, the unbroken heat block, the
breaks of a crew and locked work are in the shape of the variables and cannot be taken out.
"""

from planner.solver.rules.after import After
from planner.solver.rules.attendant_load import AttendantLoad
from planner.solver.rules.attendant_work import AttendantWork
from planner.solver.rules.channels import Channels
from planner.solver.rules.closures import Closures
from planner.solver.rules.handover import Handover
from planner.solver.rules.heater_set import HeaterSet
from planner.solver.rules.one_stage import OneStage
from planner.solver.rules.position import Position
from planner.solver.rules.power import Power
from planner.solver.rules.power_off import PowerOff
from planner.solver.rules.release import Release
from planner.solver.rules.rule import Rule
from planner.solver.rules.shift import Shift
from planner.solver.rules.waits import Waits
from planner.solver.rules.watch import Watch

ALL: tuple[Rule, ...] = (
    Release(),
    Shift(),
    OneStage(),
    Waits(),
    After(),
    HeaterSet(),
    Position(),
    Closures(),
    Watch(),
    AttendantLoad(),
    AttendantWork(),
    Handover(),
    Power(),
    Channels(),
    PowerOff(),
)
