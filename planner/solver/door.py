"""The door to OR-Tools: the one import of the solver library, for the rest of this package."""

from ortools.sat.python import cp_model

__all__ = ["cp_model"]
