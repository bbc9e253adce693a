"""The site's data: one file for each noun, constraints in Meta, no decisions."""

from planner.models.user import User

__all__ = ["User"]
