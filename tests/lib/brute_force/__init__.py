"""Every plan of a tiny bay, tried one by one: slow, plain, and independent of checker and planners."""

from tests.lib.brute_force.search import best_schedule

__all__ = ["best_schedule"]
