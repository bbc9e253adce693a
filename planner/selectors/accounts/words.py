"""The words of the costing core that pages may name in their types."""

from planner.costing.sensitivity import Swing
from planner.engineering.life_estimate import LifeEstimate

__all__ = ["LifeEstimate", "Swing"]
