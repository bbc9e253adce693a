"""Proven lower bounds on the lateness of any plan of a bay."""

from planner.solver.bounds.bound import bound, priced
from planner.solver.bounds.lagrange import PriceSearch

__all__ = ["PriceSearch", "bound", "priced"]
