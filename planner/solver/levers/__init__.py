"""What a little more of something would buy: changed bays, solved again from the plan in hand."""

from planner.solver.levers.lever import Lever, lever_named, levers_for
from planner.solver.levers.trial import NOTHING, LeverTrial, baseline_solve, lever_try

__all__ = ["NOTHING", "Lever", "LeverTrial", "baseline_solve", "lever_named", "lever_try", "levers_for"]
