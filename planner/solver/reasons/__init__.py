"""Why a tyre is left out or late: true causes with their figures, found by relaxing one thing at a time."""

from planner.solver.reasons.late import late_reasons_for
from planner.solver.reasons.left_out import reasons_for

__all__ = ["late_reasons_for", "reasons_for"]
