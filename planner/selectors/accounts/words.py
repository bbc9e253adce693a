"""The words of the costing core and of the store that pages may name in their types."""

from planner.costing.sensitivity import Swing
from planner.engineering.life_estimate import LifeEstimate
from planner.engineering.life_records import LifeMeasure
from planner.models import MaterialLot

__all__ = ["LifeEstimate", "LifeMeasure", "MaterialLot", "Swing"]
